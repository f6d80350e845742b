#pragma once
// An amount that is not negative and not known exactly: somewhere between low and high. What is not
// known at all lies between nothing and infinity, so sums stay true by themselves: a known part and
// an unknown part together are "at least the known part". Never a zero for "nobody measured it".

#include <algorithm>
#include <cmath>
#include <limits>

namespace warmside::diet {

struct Interval {
  double low = 0;
  double high = std::numeric_limits<double>::infinity();

  static Interval unknown() { return {}; }
  static Interval exactly(double x) { return {x, x}; }

  /// Whether an upper end is known; the lower always is, if only as nothing.
  bool known() const { return std::isfinite(high); }
  bool contains(double x) const { return low <= x && x <= high; }
  bool operator==(const Interval&) const = default;

  friend Interval operator+(Interval a, Interval b) { return {a.low + b.low, a.high + b.high}; }
  friend Interval& operator+=(Interval& a, Interval b) { return a = a + b; }
  /// Nothing times an unknown is nothing.
  friend Interval operator*(Interval a, Interval b) {
    return {product(a.low, b.low), product(a.high, b.high)};
  }
  friend Interval operator*(Interval a, double k) { return a * exactly(k); }
  /// What is left of a when b is taken away, not below nothing.
  friend Interval less(Interval a, Interval b) {
    return {std::max(0.0, a.low - b.high),
            std::isfinite(a.high) ? std::max(0.0, a.high - b.low) : a.high};
  }
  /// a / b for independent a and b; by what may be nothing: unknown above.
  friend Interval ratio(Interval a, Interval b) {
    return {b.high > 0 ? a.low / b.high : 0.0,
            b.low > 0 ? a.high / b.low : std::numeric_limits<double>::infinity()};
  }

 private:
  static double product(double x, double y) { return x == 0 || y == 0 ? 0 : x * y; }
};

}  // namespace warmside::diet
