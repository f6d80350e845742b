// Intervals never lose the truth: whatever the true amounts are inside their intervals, the true
// result is inside the interval that was computed.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "diet/interval.h"

namespace warmside::diet {
namespace {

/// An interval and a true amount inside it; sometimes exact, sometimes nothing, sometimes unknown.
struct Amount {
  Interval interval;
  double truth = 0;
};

Amount any_amount() {
  const auto number = [] { return *rc::gen::inRange(0, 1000) / 10.0; };
  const double low = number(), width = number();
  const double part = *rc::gen::inRange(0, 101) / 100.0;
  switch (*rc::gen::inRange(0, 4)) {
    case 0:
      return {Interval::exactly(low), low};
    case 1:
      return {Interval{low, std::numeric_limits<double>::infinity()}, low + width};
    case 2:
      return {Interval{0, width}, width * part};
    default:
      return {Interval{low, low + width}, low + width * part};
  }
}

/// Rounding may put the last bit outside.
bool holds(Interval interval, double truth) {
  const double slack = 1e-12 * (1 + std::fabs(truth));
  return interval.low <= truth + slack && truth <= interval.high + slack &&
         !std::isnan(interval.low) && !std::isnan(interval.high) && interval.low >= 0;
}

RC_GTEST_PROP(IntervalProperty, NeverLosesTheTruth, ()) {
  const Amount a = any_amount(), b = any_amount();
  RC_ASSERT(holds(a.interval + b.interval, a.truth + b.truth));
  RC_ASSERT(holds(a.interval * b.interval, a.truth * b.truth));
  RC_ASSERT(holds(less(a.interval, b.interval), std::max(0.0, a.truth - b.truth)));
  if (b.truth > 0) RC_ASSERT(holds(ratio(a.interval, b.interval), a.truth / b.truth));
}

}  // namespace
}  // namespace warmside::diet
