// What must hold of the order of service and of the round laid out in it, for every room and day.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <map>
#include <memory>
#include <set>

#include "health/quarantine.h"
#include "hygiene/order.h"
#include "property/room_generator.h"
#include "round/round.h"

namespace warmside {
namespace {

using hygiene::Place;
using hygiene::ServiceClass;
using property::day;
using room::AnimalDay;
using room::EnclosureId;
using room::Entry;
using room::EntryKind;
using room::Room;
using room::Subject;
using room::SubjectKind;

const Date kToday = day(2026, 11, 25);

/// A room, its notebook and the Day made of them.
struct Scene {
  Scene(Room r, std::vector<Entry> e) : room(std::move(r)), entries(std::move(e)) {
    const Instant until = Zone::named(room.info.zone)->start_of(kToday);
    history = room::History(property::without_struck(entries), until);
    today = room::make_day(room, history, kToday);
    health::presume_quarantines(today);
  }
  Scene(const Scene&) = delete;  // the Day points into it
  Scene& operator=(const Scene&) = delete;

  bool in_use(const room::Enclosure& e) const { return !e.retired || *e.retired > kToday; }

  Room room;
  std::vector<Entry> entries;
  room::History history;
  room::Day today;
};

/// A random room with more enclosures and animals, most of them at home in it.
Room draw_room() {
  Room room = *property::any_room(2);
  for (int i = *rc::gen::inRange(0, 6); i > 0; --i) {
    room.enclosures.emplace_back().id = EnclosureId::trusted("home-" + std::to_string(i));
  }
  for (room::Enclosure& enclosure : room.enclosures) {
    if (*rc::gen::inRange(0, 4) != 0) enclosure.retired.reset();
    if (*rc::gen::arbitrary<bool>()) enclosure.rack.clear();
  }
  for (int i = *rc::gen::inRange(0, 12); i > 0; --i) {
    room::Animal animal;
    animal.id = room::AnimalId::trusted("more-" + std::to_string(i));
    animal.species = species::SpeciesId::trusted(*rc::gen::element<std::string>(
        "corn_snake", "whites_tree_frog", "leopard_gecko", "musk_turtle", "fire_salamander"));
    animal.breeding = *rc::gen::arbitrary<bool>();
    if (*rc::gen::inRange(0, 3) == 0) animal.born = kToday - *rc::gen::inRange(0, 150);
    if (!room.enclosures.empty() && *rc::gen::inRange(0, 5) != 0) {
      animal.enclosure =
          room.enclosures[*rc::gen::inRange<std::size_t>(0, room.enclosures.size())].id;
    }
    room.animals.push_back(std::move(animal));
  }
  room::sort_records(room);
  return room;
}

/// Entries of the weeks before today about what the order depends on.
std::vector<Entry> draw_entries(const Room& room) {
  const Instant until = Zone::named(room.info.zone)->start_of(kToday);
  std::vector<Entry> entries;
  std::set<Uuid> ids;
  for (int i = *rc::gen::inRange(0, 40); i > 0; --i) {
    const auto kind = *rc::gen::element(
        EntryKind::quarantine_started, EntryKind::quarantine_started, EntryKind::quarantine_ended,
        EntryKind::ill, EntryKind::recovered, EntryKind::moved, EntryKind::moved,
        EntryKind::brumation_started, EntryKind::in_shed, EntryKind::weighed, EntryKind::struck);
    const Instant at = *property::any_instant(until - Duration::days(60), until);
    Entry entry = property::draw_entry(room, kind, at, entries);
    if (ids.insert(entry.id).second) entries.push_back(std::move(entry));
  }
  return entries;
}

std::unique_ptr<Scene> draw_scene() {
  const Room room = draw_room();
  return std::make_unique<Scene>(room, draw_entries(room));
}

std::set<room::AnimalId> draw_watched(const Room& room) {
  std::set<room::AnimalId> watched;
  for (const room::Animal& animal : room.animals) {
    if (*rc::gen::inRange(0, 5) == 0) watched.insert(animal.id);
  }
  return watched;
}

/// The class as hygiene/order.h and the keepers' rule have it: the sick last, before them
/// quarantine, before them those under observation; hatchlings and amphibians first, then
/// breeders, then the rest; an enclosure as its most exposed animal, an empty one with the rest.
ServiceClass class_of(const Scene& scene, const EnclosureId& id,
                      const std::set<room::AnimalId>& watched) {
  std::optional<ServiceClass> worst;
  for (const AnimalDay* animal : scene.today.animals_in(id)) {
    const bool tender = animal->hatchling || is_amphibian(animal->profile.group);
    const ServiceClass own = animal->ill_since                      ? ServiceClass::sick
                             : animal->quarantine_since             ? ServiceClass::quarantine
                             : watched.contains(animal->animal->id) ? ServiceClass::observation
                             : tender                   ? ServiceClass::young_and_clean_amphibians
                             : animal->animal->breeding ? ServiceClass::breeding
                                                        : ServiceClass::resident;
    if (!worst || own > *worst) worst = own;
  }
  return worst.value_or(ServiceClass::resident);
}

/// The places of every enclosure.
std::vector<Place> places_of(const Scene& scene, const std::set<room::AnimalId>& watched) {
  return hygiene::order_of_service(scene.today, watched, hygiene::every_enclosure(scene.today))
      .places;
}

/// A Place without its pointer.
struct Line {
  std::string enclosure;
  ServiceClass service_class;
  std::string reason;
  std::vector<std::string> before;
  bool operator==(const Line&) const = default;
};
std::vector<Line> lines(const std::vector<Place>& order) {
  std::vector<Line> out;
  for (const Place& place : order) {
    out.push_back({place.enclosure == nullptr ? "" : place.enclosure->id.text(),
                   place.service_class, place.reason, place.before});
  }
  return out;
}

TEST(ServiceClassOrder, IsFromTheTenderToTheSick) {
  // The order that the rest of this file takes for granted.
  EXPECT_LT(ServiceClass::preparation, ServiceClass::young_and_clean_amphibians);
  EXPECT_LT(ServiceClass::young_and_clean_amphibians, ServiceClass::breeding);
  EXPECT_LT(ServiceClass::breeding, ServiceClass::resident);
  EXPECT_LT(ServiceClass::resident, ServiceClass::observation);
  EXPECT_LT(ServiceClass::observation, ServiceClass::quarantine);
  EXPECT_LT(ServiceClass::quarantine, ServiceClass::sick);
}

RC_GTEST_PROP(OrderProperty, EveryEnclosureInUseOnceByClass, ()) {
  const auto scene = draw_scene();
  const auto watched = draw_watched(scene->room);
  const auto order = places_of(*scene, watched);
  RC_ASSERT(!order.empty());
  RC_ASSERT(order[0].enclosure == nullptr);
  RC_ASSERT((order[0].service_class == ServiceClass::preparation));
  std::set<EnclosureId> seen;
  for (std::size_t i = 1; i < order.size(); ++i) {
    const Place& place = order[i];
    RC_ASSERT(place.enclosure != nullptr);
    RC_ASSERT(seen.insert(place.enclosure->id).second);
    RC_ASSERT(scene->in_use(*place.enclosure));
    RC_ASSERT((place.service_class >= order[i - 1].service_class));
    RC_ASSERT((place.service_class == class_of(*scene, place.enclosure->id, watched)));
    RC_ASSERT(!place.reason.empty());
  }
  const auto in_use = std::count_if(scene->room.enclosures.begin(), scene->room.enclosures.end(),
                                    [&](const auto& e) { return scene->in_use(e); });
  RC_ASSERT(std::ssize(seen) == in_use);
}

RC_GTEST_PROP(OrderProperty, SameInputSameOutputWhateverOrderTheRecordsCameIn, ()) {
  const auto scene = draw_scene();
  const auto watched = draw_watched(scene->room);
  const auto order = lines(places_of(*scene, watched));
  RC_ASSERT((lines(places_of(*scene, watched)) == order));
  Room shuffled = scene->room;
  std::vector<Entry> entries = scene->entries;
  const auto shuffle = [](auto& list) {
    for (std::size_t i = list.size(); i > 1; --i) {
      std::swap(list[i - 1], list[*rc::gen::inRange<std::size_t>(0, i)]);
    }
  };
  Room::for_each_kind(shuffled, shuffle);
  shuffle(entries);
  room::sort_records(shuffled);
  const Scene again(shuffled, entries);
  RC_ASSERT((lines(places_of(again, watched)) == order));
}

/// An enclosure is as new in quarantine as the last animal that came to it: the time begins anew
/// when an animal joins (data/care_rules.csv, quarantine_zoo_minimum; aza2007).
RC_GTEST_PROP(OrderProperty, TheOldestQuarantineFirst, ()) {
  const auto scene = draw_scene();
  const auto watched = draw_watched(scene->room);
  std::optional<Date> last;
  for (const Place& place : places_of(*scene, watched)) {
    if (place.service_class != ServiceClass::quarantine) continue;
    Date since;
    for (const AnimalDay* animal : scene->today.animals_in(place.enclosure->id)) {
      if (animal->quarantine_since) since = std::max(since, *animal->quarantine_since);
    }
    if (last) RC_ASSERT((since >= *last));
    last = since;
  }
}

TEST(OrderProperty, ANewcomerMakesItsEnclosureANewQuarantine) {
  Room room;
  room.info.name = "attic";
  for (const char* id : {"home-1", "home-2"}) {
    room.enclosures.emplace_back().id = EnclosureId::trusted(id);
  }
  std::vector<Entry> entries;
  // a: 40 days in home-1, where c came 5 days ago; b: 20 days in home-2.
  const std::vector<std::tuple<std::string, std::size_t, int>> animals{
      {"a", 0, 40}, {"b", 1, 20}, {"c", 0, 5}};
  for (const auto& [id, home, ago] : animals) {
    room::Animal& animal = room.animals.emplace_back();
    animal.id = room::AnimalId::trusted(id);
    animal.species = species::SpeciesId::trusted("corn_snake");
    animal.enclosure = room.enclosures[home].id;
    Entry& entry = entries.emplace_back();
    entry.id.bytes[15] = static_cast<std::uint8_t>(ago);
    entry.kind = EntryKind::quarantine_started;
    entry.subject = room::subject_of(animal);
    entry.at = Zone().start_of(kToday - ago);
  }
  const Scene scene(room, entries);
  const auto order = lines(places_of(scene, {}));
  ASSERT_EQ(order.size(), 3u);
  EXPECT_EQ(order[1].enclosure, "home-2");
  EXPECT_EQ(order[2].enclosure, "home-1");
}

RC_GTEST_PROP(OrderProperty, AmphibiansAlwaysGetPowderFreeGloves, ()) {
  const auto scene = draw_scene();
  const auto watched = draw_watched(scene->room);
  for (const Place& place : places_of(*scene, watched)) {
    int hands = 0, gloves = 0, tools = 0, powder_free = 0;
    for (const std::string& step : place.before) {
      hands += step.starts_with("Hands:");
      gloves += step.starts_with("Gloves:");
      tools += step.starts_with("Tools:");
      powder_free += step.starts_with("Gloves:") && step.find("powder-free") != std::string::npos;
    }
    RC_ASSERT(hands == 1);
    if (place.enclosure == nullptr) continue;
    RC_ASSERT(tools == 1);
    bool amphibians = false;
    for (const AnimalDay* animal : scene->today.animals_in(place.enclosure->id)) {
      amphibians = amphibians || is_amphibian(animal->profile.group);
    }
    if (amphibians) RC_ASSERT(powder_free == 1);
    if (place.service_class >= ServiceClass::observation) RC_ASSERT(gloves == 1);
    RC_ASSERT(gloves <= 1);
  }
}

/// A task as the round may not lose it.
using TaskKey = std::tuple<round::TaskKind, Subject, EnclosureId>;

RC_GTEST_PROP(RoundProperty, EveryDueTaskStandsAtExactlyOneStop, ()) {
  const auto scene = draw_scene();
  const auto watched = draw_watched(scene->room);
  // A finder in place of the modules, so that it is known who is watched.
  const std::vector<round::Finder> finders{[&](const room::Day&) {
    std::vector<Finding> findings;
    for (const room::AnimalId& id : watched) {
      findings.push_back({When::today, "animal", id.text(), "h", "e", "a", "s", "test"});
    }
    return findings;
  }};
  const round::Round laid_out = round::lay_out(scene->today, finders);
  RC_ASSERT((laid_out.date == kToday));

  std::map<TaskKey, int> due, ahead;
  for (const round::Task& task : round::tasks_of(scene->today, watched)) {
    const TaskKey key{task.kind, task.subject, task.enclosure};
    if (task.due.date <= kToday) {
      ++due[key];
    } else if (task.due.date - kToday <= round::kDaysAhead) {
      ++ahead[key];
    }
  }
  std::map<TaskKey, int> at_stops, announced;
  std::optional<ServiceClass> last;
  std::set<EnclosureId> stops;
  for (const round::Stop& stop : laid_out.stops) {
    RC_ASSERT(!stop.tasks.empty());
    RC_ASSERT(stops.insert(stop.enclosure).second);
    if (last) RC_ASSERT((stop.service_class >= *last));
    last = stop.service_class;
    for (const round::Task& task : stop.tasks) {
      ++at_stops[{task.kind, task.subject, task.enclosure}];
      const room::Enclosure* home = room::find(scene->room.enclosures, task.enclosure);
      const bool served = home != nullptr && scene->in_use(*home);
      RC_ASSERT((stop.enclosure == (served ? task.enclosure : EnclosureId{})));
    }
  }
  for (const round::Task& task : laid_out.ahead) {
    ++announced[{task.kind, task.subject, task.enclosure}];
  }
  RC_ASSERT((at_stops == due));
  RC_ASSERT((announced == ahead));
}

RC_GTEST_PROP(RoundProperty, TheModulesTakeAnyRoom, ()) {
  const auto scene = draw_scene();
  const round::Round once = round::lay_out(scene->today);
  const round::Round again = round::lay_out(scene->today);
  RC_ASSERT((once.findings == again.findings));
  RC_ASSERT(once.stops.size() == again.stops.size());
  for (const Finding& finding : once.findings) {
    RC_ASSERT(!finding.headline.empty() && !finding.source.empty() && !finding.module.empty());
  }
}

}  // namespace
}  // namespace warmside
