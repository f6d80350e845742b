// What must hold of every quarantine, whatever the notebook says: an illness never brings it
// nearer to its end, residents do nothing to it, no number is below zero or above what is wanted,
// and nothing but the keeper's entry ends it.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <set>

#include "health/quarantine.h"
#include "property/room_generator.h"

namespace warmside::health {
namespace {

using property::day;
using room::Entry;
using room::EntryKind;
using room::Room;

const Date kFirst = day(2026, 1, 1);
constexpr int kDays = 300;

/// Two animals that begin quarantine, two residents, three enclosures of which some have a place.
Room draw_room() {
  Room room;
  room.info.name = "attic";
  room.info.zone = "Europe/Oslo";
  for (const char* id : {"one", "two", "three"}) {
    room::Enclosure enclosure;
    enclosure.id = room::EnclosureId::trusted(id);
    enclosure.place = *rc::gen::element<std::string>("", "far corner", "bathroom");
    room.enclosures.push_back(enclosure);
  }
  for (const char* id : {"new", "other", "resident", "settled"}) {
    room::Animal animal;
    animal.id = room::AnimalId::trusted(id);
    animal.species = species::SpeciesId::trusted(*rc::gen::element<std::string>(
        "corn_snake", "royal_python", "whites_tree_frog", "leopard_gecko", "musk_turtle"));
    animal.enclosure =
        room::EnclosureId::trusted(*rc::gen::element<std::string>("one", "two", "three"));
    if (id == std::string("settled")) animal.arrived = kFirst - 1000;
    if (id == std::string("other") && *rc::gen::arbitrary<bool>()) {
      animal.arrived = kFirst + *rc::gen::inRange(-50, kDays);
    }
    room.animals.push_back(animal);
  }
  room::sort_records(room);
  return room;
}

Entry entry(EntryKind kind, const std::string& animal, Instant at) {
  Entry made;
  made.id = *property::any_uuid();
  made.kind = kind;
  made.subject = {room::SubjectKind::animal, animal};
  made.at = at;
  return made;
}

Instant draw_moment() {
  const Instant from = Zone::named("Europe/Oslo")->start_of(kFirst + 1);
  return *property::any_instant(from, from + Duration::days(kDays));
}

/// One of the things that quarantine looks at, but no beginning or end.
Entry draw_entry(const std::string& animal) {
  Entry made = entry(*rc::gen::element(EntryKind::checked, EntryKind::checked, EntryKind::checked,
                                       EntryKind::fed, EntryKind::fed, EntryKind::refused,
                                       EntryKind::regurgitated, EntryKind::shed, EntryKind::weighed,
                                       EntryKind::ill, EntryKind::recovered, EntryKind::moved),
                     animal, draw_moment());
  if (made.kind == EntryKind::checked) {
    made.item = *rc::gen::element<std::string>("mites", "faecal sample", "Cryptosporidium PCR",
                                               "Bd swab", "ranavirus", "arenavirus", "nidovirus") +
                *rc::gen::element<std::string>("", ": negative", ": negative", ": positive");
  }
  if (made.kind == EntryKind::weighed) made.mass = Mass::grams(*rc::gen::inRange(80, 120));
  if (made.kind == EntryKind::shed) {
    made.item = *rc::gen::element<std::string>("complete", "complete", "stuck");
  }
  if (made.kind == EntryKind::moved) {
    made.target = {room::SubjectKind::enclosure,
                   *rc::gen::element<std::string>("one", "two", "three")};
  }
  return made;
}

/// A notebook in which the quarantine of "new" begins on the first day and that of "other" some
/// day.
std::vector<Entry> draw_notebook() {
  std::vector<Entry> entries;
  entries.push_back(entry(EntryKind::quarantine_started, "new",
                          Zone::named("Europe/Oslo")->at(kFirst, TimeOfDay{12 * 60})));
  if (*rc::gen::arbitrary<bool>()) {
    entries.push_back(entry(EntryKind::quarantine_started, "other", draw_moment()));
    if (*rc::gen::arbitrary<bool>()) {
      entries.push_back(entry(EntryKind::quarantine_ended, "other", draw_moment()));
    }
  }
  for (int i = *rc::gen::inRange(0, 60); i > 0; --i) {
    entries.push_back(draw_entry(*rc::gen::element<std::string>("new", "new", "new", "other")));
  }
  return entries;
}

Quarantine reckon(const Room& room, const std::vector<Entry>& entries, Date date,
                  const char* animal = "new") {
  const Instant until = Zone::named(room.info.zone)->start_of(date + 1);
  std::vector<Entry> known;
  for (const Entry& e : entries) {
    if (e.at < until) known.push_back(e);
  }
  const room::History history(std::move(known), until);
  const room::Day today = room::make_day(room, history, date);
  for (const room::AnimalDay& state : today.animals) {
    if (state.animal->id.text() == animal) return quarantine_of(state, today);
  }
  return {};
}

RC_GTEST_PROP(QuarantineProperty, AnIllnessNeverBringsTheEndNearer, ()) {
  const Room room = draw_room();
  std::vector<Entry> entries = draw_notebook();
  const Date today = kFirst + *rc::gen::inRange(0, kDays);
  const Quarantine before = reckon(room, entries, today);
  const std::string who = *rc::gen::element<std::string>("new", "new", "other");
  entries.push_back(entry(EntryKind::ill, who, draw_moment()));
  const Quarantine after = reckon(room, entries, today);
  RC_ASSERT(before.holds());
  RC_ASSERT(after.holds());
  RC_ASSERT(after.days_left >= before.days_left);
  RC_ASSERT((after.clock_since >= before.clock_since));
  RC_ASSERT((after.earliest_end >= before.earliest_end));
  RC_ASSERT(before.all_met() || !after.all_met());
  RC_ASSERT(after.requirements.size() == before.requirements.size());
  for (std::size_t i = 1; i < after.requirements.size(); ++i) {
    const Requirement &a = after.requirements[i], &b = before.requirements[i];
    RC_ASSERT(a.what == b.what);
    RC_ASSERT(a.have <= b.have);
    RC_ASSERT(b.standing == Standing::met || a.standing != Standing::met);
  }
}

RC_GTEST_PROP(QuarantineProperty, AResidentsEntriesChangeNothing, ()) {
  const Room room = draw_room();
  std::vector<Entry> entries = draw_notebook();
  const Date today = kFirst + *rc::gen::inRange(0, kDays);
  const Quarantine before = reckon(room, entries, today);
  for (int i = *rc::gen::inRange(1, 20); i > 0; --i) {
    entries.push_back(draw_entry(*rc::gen::element<std::string>("resident", "settled")));
  }
  const Quarantine after = reckon(room, entries, today);
  RC_ASSERT(progress_line(after) == progress_line(before));
  RC_ASSERT(after.restarts.size() == before.restarts.size());
  for (const char* resident : {"resident", "settled"}) {
    RC_ASSERT(!reckon(room, entries, today, resident).holds());
  }
}

RC_GTEST_PROP(QuarantineProperty, NumbersStayWithinWhatIsWanted, ()) {
  const Room room = draw_room();
  const std::vector<Entry> entries = draw_notebook();
  const Date today = kFirst + *rc::gen::inRange(0, kDays + 400);
  const Quarantine q = reckon(room, entries, today);
  RC_ASSERT(q.days_left >= 0);
  RC_ASSERT(q.days_done >= 0);
  RC_ASSERT(q.days_done + q.days_left == q.days_wanted);
  RC_ASSERT((q.clock_since >= *q.began));
  RC_ASSERT((q.clock_since <= today));
  Date last = *q.began;
  for (const Restart& restart : q.restarts) {
    RC_ASSERT((restart.on > *q.began && restart.on >= last));
    RC_ASSERT(!restart.says.empty());
    last = restart.on;
  }
  for (const Requirement& r : q.requirements) {
    RC_ASSERT(r.have >= 0);
    RC_ASSERT(r.have <= r.wanted);
    RC_ASSERT(!r.source.empty());
    RC_ASSERT(std::is_sorted(r.counted.begin(), r.counted.end()));
    for (const Date counted : r.counted) {
      RC_ASSERT((counted >= q.clock_since && counted <= today));
    }
    RC_ASSERT((r.standing == Standing::met) <= (r.have == r.wanted));
  }
}

RC_GTEST_PROP(QuarantineProperty, OnlyTheKeeperEndsIt, ()) {
  const Room room = draw_room();
  std::vector<Entry> entries = draw_notebook();
  const Date today = kFirst + *rc::gen::inRange(0, 3000);
  RC_ASSERT(reckon(room, entries, today).holds());
  entries.push_back(entry(EntryKind::quarantine_ended, "new",
                          Zone::named(room.info.zone)->at(today, TimeOfDay{13 * 60})));
  RC_ASSERT(!reckon(room, entries, today).holds());
  RC_ASSERT(!reckon(room, entries, today + 500).holds());
}

}  // namespace
}  // namespace warmside::health
