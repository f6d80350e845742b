// The way out of a quantity names the unit.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
double mass_g = Mass::grams(350).grams();
#else
double mass_g = Mass::grams(350);
#endif
