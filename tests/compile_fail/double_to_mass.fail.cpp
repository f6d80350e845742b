// A bare number has no unit, so it is no mass.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
Mass mass = Mass::grams(350.0);
#else
Mass mass = 350.0;
#endif
