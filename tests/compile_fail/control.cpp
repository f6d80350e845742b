// Must compile: shows that run.sh has the right compiler and folders.
#include "core/quantity.h"
using namespace warmside;
Temperature warm = Temperature::celsius(21) + TemperatureDelta::kelvin(7);
