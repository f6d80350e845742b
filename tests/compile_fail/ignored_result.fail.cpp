// A Result must be looked at (needs -Werror=unused-result, as run.sh passes).
#include "core/quantity.h"
using namespace warmside;
bool ask() {
#ifdef CONTROL
  return parse<Mass>("350g").ok();
#else
  parse<Mass>("350g");
  return true;
#endif
}
