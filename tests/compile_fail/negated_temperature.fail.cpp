// Minus a reading means nothing; nor does twice a reading.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
auto opposite = -TemperatureDelta::kelvin(5);
#else
auto opposite = -Temperature::celsius(5);
#endif
