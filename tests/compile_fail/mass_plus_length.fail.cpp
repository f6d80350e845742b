// Different quantities do not add.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
auto sum = Mass::grams(1) + Mass::grams(1);
#else
auto sum = Mass::grams(1) + Length::metres(1);
#endif
