// Only the quantities can be read with units; a bare double is refused here, not at link time.
#include "core/quantity.h"
using namespace warmside;
#ifdef CONTROL
auto value = parse<Mass>("350g");
#else
auto value = parse<double>("350");
#endif
