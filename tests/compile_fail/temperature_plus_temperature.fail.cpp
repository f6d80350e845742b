// A sum of two thermometer readings means nothing; reading plus difference does.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
auto sum = Temperature::celsius(20) + TemperatureDelta::kelvin(8);
#else
auto sum = Temperature::celsius(20) + Temperature::celsius(8);
#endif
