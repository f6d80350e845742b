// The rule of 10 W^0.75 wants kilograms: a bare number, which may be grams, is refused.
#include "diet/metabolic_rate.h"
using namespace warmside;
#ifdef CONTROL
Energy need = diet::veterinary_need_per_day(Mass::grams(1000));
#else
Energy need = diet::veterinary_need_per_day(1000.0);
#endif
