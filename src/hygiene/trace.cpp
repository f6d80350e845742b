#include "hygiene/trace.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <queue>
#include <tuple>

#include "core/check.h"

namespace warmside::hygiene {
namespace {

using Kind = ContactEvent::Kind;

/// Walks through the events in one direction and keeps for each carrier the strongest chain that
/// holds at that moment. Backwards the chains lead to the carrier that was asked about.
class Sweep {
 public:
  Sweep(std::size_t carriers, bool backwards, std::uint32_t group)
      : backwards_(backwards),
        group_(group),
        now_(carriers, kNone),
        best_(carriers, kNone),
        company_(carriers) {}

  void begin(Carrier carrier, std::int64_t at_ms) {
    asked_ = carrier;
    arrive({at_ms, carrier, carrier, 0, kNone, 1});
    pass_on(carrier, at_ms);
  }

  /// Who is together, before anything is traced.
  void note(const ContactEvent& event) {
    if (event.kind == Kind::together) join(event);
    if (event.kind == Kind::apart) part(event);
  }

  void take(const ContactEvent& event) {
    switch (event.kind) {
      case Kind::touch:
        step(event.a, event.b, event);
        step(event.b, event.a, event);
        break;
      case Kind::give:
        backwards_ ? step(event.b, event.a, event) : step(event.a, event.b, event);
        break;
      case Kind::together:
        // Backwards it is where they part.
        backwards_ ? part(event) : meet(event);
        break;
      case Kind::apart:
        backwards_ ? meet(event) : part(event);
        break;
      case Kind::cut:
        if ((event.cuts & group_) == 0) break;
        now_[event.a] = kNone;
        refill(event.a, event.at_ms);
        break;
    }
  }

  std::vector<Chain> chains() const {
    std::vector<Chain> found;
    for (Carrier carrier = 0; carrier < best_.size(); ++carrier) {
      if (carrier == asked_ || best_[carrier] == kNone) continue;
      Chain chain{carrier, arrivals_[best_[carrier]].at_ms, arrivals_[best_[carrier]].weight, {}};
      for (std::size_t i = best_[carrier]; arrivals_[i].before != kNone; i = arrivals_[i].before) {
        const Arrival& arrival = arrivals_[i];
        chain.steps.push_back(
            backwards_ ? TraceStep{arrival.at_ms, arrival.carrier, arrival.from, arrival.entry}
                       : TraceStep{arrival.at_ms, arrival.from, arrival.carrier, arrival.entry});
      }
      if (!backwards_) std::reverse(chain.steps.begin(), chain.steps.end());
      found.push_back(std::move(chain));
    }
    std::sort(found.begin(), found.end(), [](const Chain& x, const Chain& y) {
      return std::tuple(-x.weight, x.at_ms, x.carrier) < std::tuple(-y.weight, y.at_ms, y.carrier);
    });
    return found;
  }

 private:
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

  /// How something came to a carrier.
  struct Arrival {
    std::int64_t at_ms;
    Carrier carrier, from;
    std::uint32_t entry;
    std::size_t before;  // how it had come to `from`
    double weight;
  };
  struct Companion {
    Carrier carrier;
    float weight;
    std::uint32_t entry;
  };

  double held(Carrier carrier) const {
    return now_[carrier] == kNone ? 0 : arrivals_[now_[carrier]].weight;
  }

  void arrive(Arrival arrival) {
    const Carrier carrier = arrival.carrier;
    now_[carrier] = arrivals_.size();
    if (best_[carrier] == kNone || arrival.weight > arrivals_[best_[carrier]].weight) {
      best_[carrier] = now_[carrier];
    }
    arrivals_.push_back(arrival);
  }

  /// Whether it reached the carrier more strongly than what it held.
  bool reach(Carrier from, Carrier to, float weight, std::uint32_t entry, std::int64_t at_ms) {
    const double arriving = held(from) * static_cast<double>(weight);
    if (!(arriving > held(to))) return false;
    arrive({at_ms, to, from, entry, now_[from], arriving});
    return true;
  }

  void step(Carrier from, Carrier to, const ContactEvent& event) {
    if (reach(from, to, event.weight, event.entry, event.at_ms)) pass_on(to, event.at_ms);
  }

  /// To all that are together with it, and so on, the strongest first.
  void pass_on(Carrier from, std::int64_t at_ms) {
    if (company_[from].empty()) return;
    std::priority_queue<std::pair<double, Carrier>> reached;
    reached.emplace(held(from), from);
    while (!reached.empty()) {
      const auto [weight, carrier] = reached.top();
      reached.pop();
      if (weight < held(carrier)) continue;
      for (const Companion& other : company_[carrier]) {
        if (reach(carrier, other.carrier, other.weight, other.entry, at_ms)) {
          reached.emplace(held(other.carrier), other.carrier);
        }
      }
    }
  }

  /// What is together with a carrier that was just cleaned soils it again.
  void refill(Carrier carrier, std::int64_t at_ms) {
    for (const Companion& other : company_[carrier]) {
      reach(other.carrier, carrier, other.weight, other.entry, at_ms);
    }
  }

  void join(const ContactEvent& event) {
    company_[event.a].push_back({event.b, event.weight, event.entry});
    company_[event.b].push_back({event.a, event.weight, event.entry});
  }
  void meet(const ContactEvent& event) {
    join(event);
    step(event.a, event.b, event);
    step(event.b, event.a, event);
  }
  void part(const ContactEvent& event) {
    const auto leave = [&](Carrier one, Carrier other) {
      auto& company = company_[one];
      const auto found = std::find_if(company.begin(), company.end(),
                                      [&](const Companion& c) { return c.carrier == other; });
      if (found != company.end()) company.erase(found);
    };
    leave(event.a, event.b);
    leave(event.b, event.a);
  }

  bool backwards_;
  std::uint32_t group_;
  Carrier asked_ = 0;
  std::vector<Arrival> arrivals_;
  std::vector<std::size_t> now_, best_;          // arrivals, by carrier
  std::vector<std::vector<Companion>> company_;  // by carrier
};

/// In order, of carriers that there are, with weights that make no chain stronger.
void check(std::span<const ContactEvent> events, std::size_t carriers) {
  std::int64_t last = std::numeric_limits<std::int64_t>::min();
  for (const ContactEvent& event : events) {
    WS_CHECK(event.at_ms >= last);
    last = event.at_ms;
    WS_CHECK(event.a < carriers && (event.kind == Kind::cut || event.b < carriers));
    WS_CHECK(event.weight > 0 && event.weight <= 1);
  }
}

}  // namespace

std::vector<Chain> trace_ahead(std::span<const ContactEvent> events, std::size_t carriers,
                               Carrier from, std::int64_t at_ms, std::uint32_t group) {
  check(events, carriers);
  WS_CHECK(from < carriers);
  Sweep sweep(carriers, false, group);
  auto event = events.begin();
  for (; event != events.end() && event->at_ms < at_ms; ++event) sweep.note(*event);
  sweep.begin(from, at_ms);
  for (; event != events.end(); ++event) sweep.take(*event);
  return sweep.chains();
}

std::vector<Chain> trace_back(std::span<const ContactEvent> events, std::size_t carriers,
                              Carrier to, std::int64_t at_ms, std::uint32_t group) {
  check(events, carriers);
  WS_CHECK(to < carriers);
  Sweep sweep(carriers, true, group);
  const auto end =
      std::upper_bound(events.begin(), events.end(), at_ms,
                       [](std::int64_t at, const ContactEvent& event) { return at < event.at_ms; });
  for (auto event = events.begin(); event != end; ++event) sweep.note(*event);
  sweep.begin(to, at_ms);
  for (auto event = end; event != events.begin();) sweep.take(*--event);
  return sweep.chains();
}

}  // namespace warmside::hygiene
