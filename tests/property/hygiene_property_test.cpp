// Findings of hygiene on random uses and disinfections of shared tools: against a search over every
// pair of uses, and against contact tracing, which shares nothing with them but the entries.

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <set>

#include "hygiene/exposure.h"
#include "hygiene/findings.h"
#include "support/room_builder.h"

namespace warmside::hygiene {
namespace {

using room::EntryKind;
using test::RoomBuilder;

constexpr const char* kAnimals[] = {"garnet", "ash", "birch", "cedar"};  // garnet in quarantine
constexpr const char* kTools[] = {"tub", "hook"};

struct Event {
  int tool = 0;
  int animal = -1;  // -1: a disinfection
  bool covers = false;
};

std::vector<Event> draw_events() {
  const std::vector<int> counts{0, 4, 8, 14}, tools{0, 1}, animals{0, 0, 1, 2, 3, -1, -1};
  std::vector<Event> events;
  const int count = *rc::gen::elementOf(counts);
  for (int i = 0; i < count; ++i) {
    events.push_back(
        {*rc::gen::elementOf(tools), *rc::gen::elementOf(animals), *rc::gen::arbitrary<bool>()});
  }
  return events;
}

/// Each animal alone in its enclosure; one event every hour from the morning of 9 March on.
RoomBuilder room_with(const std::vector<Event>& events) {
  RoomBuilder b;
  for (const char* animal : kAnimals) {
    b.enclosure((std::string("home-") + animal).c_str()).animal(animal, "corn_snake");
  }
  b.add<room::Tool>("tub", [](room::Tool& t) { t.kind = room::ToolKind::tub; });
  b.add<room::Tool>("hook", [](room::Tool& t) { t.kind = room::ToolKind::hook; });
  b.entry("2026-03-01", EntryKind::quarantine_started, "garnet");
  int hour = 6;
  for (const Event& event : events) {
    const std::string at = fmt::format("2026-03-09 {:02}:00", hour++);
    if (event.animal < 0) {
      b.entry(at, EntryKind::disinfected, kTools[event.tool], [&](room::Entry& e) {
        e.item = "bleach 0.1%";
        if (event.covers) e.count = 10;
      });
    } else {
      b.entry(at, EntryKind::used, kTools[event.tool], [&](room::Entry& e) {
        e.target = room::Subject{room::SubjectKind::animal, kAnimals[event.animal]};
      });
    }
  }
  return b;
}

/// Who had a tool after garnet with nothing known between, pair by pair.
std::set<std::string> reached_by_search(const std::vector<Event>& events) {
  std::set<std::string> reached;
  for (std::size_t i = 0; i < events.size(); ++i) {
    if (events[i].animal != 0) continue;
    for (std::size_t j = i + 1; j < events.size(); ++j) {
      if (events[j].tool != events[i].tool) continue;
      if (events[j].animal < 0 && events[j].covers) break;
      if (events[j].animal > 0) reached.insert(kAnimals[events[j].animal]);
    }
  }
  return reached;
}

RC_GTEST_PROP(HygieneProperty, BrokenQuarantineIsWhatASearchOverAllPairsFinds, ()) {
  const auto events = draw_events();
  const RoomBuilder b = room_with(events);
  const auto test = b.day("2026-03-10");
  std::set<std::string> found;
  for (const Finding& finding : findings(test.day)) {
    RC_ASSERT(!finding.headline.empty() && !finding.evidence.empty() && !finding.advice.empty() &&
              !finding.source.empty());
    if (finding.subject_kind == "animal") found.insert(finding.subject);
  }
  const auto wanted = reached_by_search(events);
  RC_TAG(wanted.size());
  RC_ASSERT(found == wanted);
}

RC_GTEST_PROP(HygieneProperty, TracingReachesAllThatFindingsName, ()) {
  const RoomBuilder b = room_with(draw_events());
  const auto test = b.day("2026-03-10");
  const Zone zone = *Zone::named("Europe/Oslo");
  const auto traced =
      trace(b.entries(), contact_room(*test.room, zone), zone,
            {"garnet", zone.start_of(test::date("2026-03-01")), Direction::ahead, std::nullopt});
  RC_ASSERT(traced.ok());
  std::set<std::string> reached;
  for (const Exposure& exposure : traced->exposed) reached.insert(exposure.animal);
  for (const Finding& finding : findings(test.day)) {
    if (finding.subject_kind == "animal") RC_ASSERT(reached.contains(finding.subject));
  }
}

RC_GTEST_PROP(HygieneProperty, AKnownDisinfectionAfterEachUseLeavesNothingToSay, ()) {
  std::vector<Event> events;
  for (Event event : draw_events()) {
    if (event.animal < 0 || events.size() > 12) continue;
    events.push_back(event);
    events.push_back({event.tool, -1, true});
  }
  RC_ASSERT(findings(room_with(events).day("2026-03-10").day).empty());
}

}  // namespace
}  // namespace warmside::hygiene
