#pragma once
// Contact tracing on plain numbers: who can have got something from whom, by which chain of
// contacts and how strongly. Infection travels forward in time only, and what a disinfection
// removes is gone.
//
// Use it through contacts.h, which makes the contacts from a notebook. It finds for every carrier
// the strongest chain: the product of the weights of its steps is the greatest. Weights are for the
// order in which to look, not probabilities.
// Checked by: tests/reference/trace_test.cpp (every time-respecting path; a graph library).

#include <cstdint>
#include <span>
#include <vector>

namespace warmside::hygiene {

/// Something that can hold and pass on: an animal, an enclosure, a tool, a pair of hands. An index.
using Carrier = std::uint32_t;

/// One thing that happened, in the order of time and, at one moment, of writing.
struct ContactEvent {
  enum class Kind : std::uint8_t {
    touch,     // a and b touch for a moment; it passes both ways
    give,      // only from a to b
    together,  // a and b are together from here on, until
    apart,     // they part; weight and entry are those of `together`
    cut,       // what a held is gone, where `cuts` says so; b is not used
  };
  std::int64_t at_ms = 0;
  Carrier a = 0, b = 0;
  Kind kind = Kind::touch;
  float weight = 1;         // 0 < weight <= 1, of passing once; of `cut` not used
  std::uint32_t entry = 0;  // of the caller's; told back in the steps
  std::uint32_t cuts = 0;   // of `cut`: a bit for each group of organisms that it takes away
};

/// One step of a chain.
struct TraceStep {
  std::int64_t at_ms = 0;
  Carrier from = 0, to = 0;
  std::uint32_t entry = 0;  // of the event by which it passed
};

/// The strongest chain between the carrier that was asked about and another.
struct Chain {
  Carrier carrier = 0;
  std::int64_t at_ms = 0;  // ahead: when it can have got it; back: when it can have passed it on
  double weight = 0;       // product of the steps' weights
  std::vector<TraceStep> steps;  // in the order of time; never empty
};

/// Whom can `from`, shedding from the moment `at_ms` on, have reached? Strongest first, then by
/// time and carrier. `events`: in order; those before the moment say who is together with whom
/// then.
/// A cut holds where it shares a bit with `group`.
std::vector<Chain> trace_ahead(std::span<const ContactEvent> events, std::size_t carriers,
                               Carrier from, std::int64_t at_ms, std::uint32_t group);

/// From whom can `to` have got it by the moment `at_ms`? The same, backwards in time.
std::vector<Chain> trace_back(std::span<const ContactEvent> events, std::size_t carriers,
                              Carrier to, std::int64_t at_ms, std::uint32_t group);

}  // namespace warmside::hygiene
