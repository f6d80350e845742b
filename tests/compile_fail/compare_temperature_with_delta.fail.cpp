// 5 degrees warmer is not a reading of 5 degrees.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
bool warmer = Temperature::celsius(20) < Temperature::celsius(5);
#else
bool warmer = Temperature::celsius(20) < TemperatureDelta::kelvin(5);
#endif
