#pragma once
// Result<T>: a value, or the Problem that stands in its way. Checked<T>: a value, or every
// Problem a reader met. Both must be looked at; the compiler objects to a dropped one.
//
// Used where something expected can go wrong. Not for failures of the machine (MachineFailure).
// g++ 12 has no std::expected in C++20 mode; this is the small part of it that we use.

#include <utility>
#include <variant>

#include "core/check.h"
#include "core/problem.h"

namespace warmside {

template <class T, class E>
class [[nodiscard]] Outcome {
 public:
  Outcome(T value) : state_(std::in_place_index<0>, std::move(value)) {}      // NOLINT: by design
  Outcome(E problem) : state_(std::in_place_index<1>, std::move(problem)) {}  // NOLINT: by design

  bool ok() const { return state_.index() == 0; }
  explicit operator bool() const { return ok(); }

  /// The value. Calling it on a problem is our mistake and ends the program with a message.
  const T& value() const& { return WS_CHECK(ok()), std::get<0>(state_); }
  T& value() & { return WS_CHECK(ok()), std::get<0>(state_); }
  T&& value() && { return WS_CHECK(ok()), std::get<0>(std::move(state_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  const E& problem() const& { return WS_CHECK(!ok()), std::get<1>(state_); }
  E&& problem() && { return WS_CHECK(!ok()), std::get<1>(std::move(state_)); }

 private:
  std::variant<T, E> state_;
};

template <class T>
using Result = Outcome<T, Problem>;
template <class T>
using Checked = Outcome<T, Problems>;

}  // namespace warmside
