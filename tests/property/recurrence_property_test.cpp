// What must hold of recurring work on every day: it counts days of the room's calendar, whatever
// the clocks do; it never piles up; and pauses in feeding are kept.
// Intervals here are copied by hand from data/species_facts.csv, data/care_intervals.csv and
// data/care_rules.csv (named beside each).

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <map>
#include <set>

#include "property/room_generator.h"
#include "round/tasks.h"

namespace warmside::round {
namespace {

using property::day;
using room::Entry;
using room::EntryKind;
using room::Room;
using room::Subject;
using room::SubjectKind;

// ---- next_due ----------------------------------------------------------------------------------

rc::Gen<std::optional<Date>> perhaps_date() {
  return rc::gen::map(rc::gen::inRange(-80, 60), [](int days) {
    return days < -60 ? std::nullopt : std::optional(day(2026, 11, 25) + days);
  });
}

RC_GTEST_PROP(NextDueProperty, LateOnlyAfterItsDayAndNeverInAPause, ()) {
  Recurrence recurrence;
  recurrence.every_days = *rc::gen::inRange(1, 90);
  recurrence.last_done = *perhaps_date();
  recurrence.first_due = *perhaps_date();
  recurrence.not_before = *perhaps_date();
  const Date today = day(2026, 11, 25);
  const Due due = next_due(recurrence, today);
  if (due.date >= today) RC_ASSERT(due.late_days == 0);
  if (due.date < today) RC_ASSERT(due.date + due.late_days == today);
  if (recurrence.not_before) RC_ASSERT((due.date >= *recurrence.not_before));
  if (recurrence.last_done) RC_ASSERT(due.date - *recurrence.last_done >= recurrence.every_days);
  if (!recurrence.not_before && recurrence.last_done) {
    RC_ASSERT(due.date - *recurrence.last_done == recurrence.every_days);
  }
  if (!recurrence.last_done && !recurrence.first_due && !recurrence.not_before) {
    RC_ASSERT((due.date == today));
  }
  // The next day it is due on the same day and a day later, but for what was never begun.
  const Due tomorrow = next_due(recurrence, today + 1);
  if (recurrence.last_done || recurrence.first_due) {
    RC_ASSERT((tomorrow.date == due.date));
    RC_ASSERT(tomorrow.late_days == std::max(0, today + 1 - due.date));
  }
}

RC_GTEST_PROP(NextDueProperty, DoneTodayIsDueOneIntervalLater, ()) {
  Recurrence recurrence;
  recurrence.every_days = *rc::gen::inRange(1, 400);
  const Date today = *property::any_date() - 500;
  recurrence.last_done = today;
  recurrence.first_due = *perhaps_date();  // says nothing once it was done
  const Due due = next_due(recurrence, today);
  RC_ASSERT(due.date - today == recurrence.every_days);
  RC_ASSERT(due.late_days == 0);
}

// ---- A room in Oslo ----------------------------------------------------------------------------

template <class Record>
Record& add(std::vector<Record>& records, const std::string& id) {
  records.emplace_back().id = decltype(Record::id)::trusted(id);
  return records.back();
}

/// A piece of work of oslo_room(), what is jotted when it is done, and its interval.
struct Work {
  TaskKind kind;
  Subject subject;
  EntryKind done;
  std::string item;
  int every_days;
};

const Subject kJuniper{SubjectKind::animal, "juniper"};
const Subject kMoss{SubjectKind::animal, "moss"};
const Subject kRowan{SubjectKind::animal, "rowan"};
const Subject kTopaz{SubjectKind::animal, "topaz"};

const std::vector<Work> kWork{
    // species_facts.csv: corn_snake, crested_gecko
    {TaskKind::feeding, kJuniper, EntryKind::fed, "mouse", 10},
    {TaskKind::feeding, kMoss, EntryKind::fed, "", 2},
    {TaskKind::weighing, kJuniper, EntryKind::weighed, "", 30},
    // care_intervals.csv
    {TaskKind::weighing, kRowan, EntryKind::weighed, "", 7},  // any, quarantine
    {TaskKind::quarantine_mite_check, kRowan, EntryKind::checked, "mites", 14},
    {TaskKind::quarantine_faecal_test, kRowan, EntryKind::checked, "faecal sample", 21},
    {TaskKind::water, {SubjectKind::enclosure, "home-j"}, EntryKind::watered, "", 1},
    {TaskKind::spot_clean, {SubjectKind::enclosure, "home-j"}, EntryKind::spot_cleaned, "", 3},
    {TaskKind::spot_clean, {SubjectKind::enclosure, "home-j"}, EntryKind::full_cleaned, "", 3},
    {TaskKind::full_clean, {SubjectKind::enclosure, "home-j"}, EntryKind::full_cleaned, "", 30},
    {TaskKind::full_clean, {SubjectKind::enclosure, "home-r"}, EntryKind::full_cleaned, "", 7},
    {TaskKind::misting, {SubjectKind::enclosure, "home-m"}, EntryKind::misted, "", 1},
    {TaskKind::thermostat_test, {SubjectKind::thermostat, "th"}, EntryKind::tested, "", 30},
    {TaskKind::thermostat_test, {SubjectKind::thermostat, "th"}, EntryKind::replaced, "", 30},
    {TaskKind::smoke_alarm_test, {SubjectKind::safety_device, "al"}, EntryKind::tested, "", 30},
    {TaskKind::uv_reading, {SubjectKind::lamp, "tube"}, EntryKind::uv_reading, "", 30},
    {TaskKind::jar_age, {SubjectKind::jar, "d3"}, EntryKind::replaced, "", 180},
    // the keeper's own
    {TaskKind::standing, {SubjectKind::task, "filter"}, EntryKind::done, "", 9},
};

/// Juniper, a grown corn snake; Moss, a grown crested gecko; Rowan, a corn snake in quarantine;
/// Topaz, a grown leopard gecko.
Room oslo_room() {
  Room room;
  room.info.name = "attic";
  room.info.zone = "Europe/Oslo";
  for (const char* id : {"home-j", "home-m", "home-r", "home-t"}) add(room.enclosures, id);
  const auto animal = [&](const char* id, const char* species, const char* home) {
    room::Animal& made = add(room.animals, id);
    made.species = species::SpeciesId::trusted(species);
    made.enclosure = room::EnclosureId::trusted(home);
  };
  animal("juniper", "corn_snake", "home-j");
  animal("moss", "crested_gecko", "home-m");
  animal("rowan", "corn_snake", "home-r");
  animal("topaz", "leopard_gecko", "home-t");
  add(room.thermostats, "th").enclosure = room.enclosures[0].id;
  add(room.safety_devices, "al");
  room::Lamp& tube = add(room.lamps, "tube");
  tube.uvb = true;
  tube.enclosure = room.enclosures[0].id;
  add(room.jars, "d3");
  room::StandingTask& filter = add(room.tasks, "filter");
  filter.title = "rinse the filter";
  filter.every = Duration::days(9);
  room::sort_records(room);
  return room;
}

/// Entry n of a notebook; ids rise with n.
Entry entry(int n, EntryKind kind, const Subject& subject, Instant at, std::string item = "") {
  Entry made;
  made.id.bytes[14] = static_cast<std::uint8_t>(n / 256);
  made.id.bytes[15] = static_cast<std::uint8_t>(n % 256);
  made.kind = kind;
  made.subject = subject;
  made.at = at;
  made.item = std::move(item);
  if (kind == EntryKind::weighed)
    made.mass = Mass::grams(subject.id == "moss" || subject.id == "topaz" ? 50 : 600);
  if (kind == EntryKind::uv_reading) made.uvi = UvIndex::index(1);
  return made;
}

/// What is known of oslo_room() from before: all are grown, Rowan is in quarantine.
/// (adult_mass: corn_snake from 300 g, crested_gecko from 35 g, leopard_gecko from 45 g)
std::vector<Entry> long_ago() {
  const Instant then = parse_instant("2025-12-01T12:00:00Z").value();
  return {entry(1, EntryKind::weighed, kJuniper, then), entry(2, EntryKind::weighed, kMoss, then),
          entry(3, EntryKind::weighed, kRowan, then),
          entry(4, EntryKind::quarantine_started, kRowan, then),
          entry(5, EntryKind::weighed, kTopaz, then)};
}

/// A wall time in Oslo in 2026, as RFC 3339 with the offset that holds: +02:00 from 29 March 01:00
/// UTC to 25 October 01:00 UTC (Norway, forskrift om sommertid), written without our Zone. Of a
/// doubled time `later` takes the second; of a skipped one it names the moment with +02:00.
Instant oslo(Date date, int minutes, bool later) {
  const Date spring = day(2026, 3, 29), autumn = day(2026, 10, 25);
  bool summer = date > spring && date < autumn;
  if (date == spring) summer = minutes >= 180 || (minutes >= 120 && later);
  if (date == autumn) summer = minutes < 120 || (minutes < 180 && !later);
  return parse_instant(fmt::format("{}T{:02}:{:02}:00{}", to_text(date), minutes / 60, minutes % 60,
                                   summer ? "+02:00" : "+01:00"))
      .value();
}

std::vector<Task> tasks_on(const Room& room, const std::vector<Entry>& entries, Date date) {
  const Instant until = Zone::named(room.info.zone)->start_of(date + 1);
  std::vector<Entry> known;
  for (const Entry& e : property::without_struck(entries)) {
    if (e.at < until) known.push_back(e);
  }
  const room::History history(std::move(known), until);
  return tasks_of(room::make_day(room, history, date), {});
}

std::vector<Task> of(const std::vector<Task>& tasks, TaskKind kind, const Subject& subject) {
  std::vector<Task> found;
  for (const Task& task : tasks) {
    if (task.kind == kind && task.subject == subject) found.push_back(task);
  }
  return found;
}

/// Days about both changes of the clocks and any other; 00:10, 02:30 (skipped on 29 March, doubled
/// on 25 October) and 23:50.
struct Moment {
  Date date;
  Instant at;
};
Moment draw_moment() {
  const Date date = *rc::gen::oneOf(
      rc::gen::element(day(2026, 3, 28), day(2026, 3, 29), day(2026, 3, 30), day(2026, 10, 24),
                       day(2026, 10, 25), day(2026, 10, 26)),
      rc::gen::map(rc::gen::inRange(0, 364), [](int n) { return day(2026, 1, 1) + n; }));
  const int minutes = *rc::gen::element(10, 150, 23 * 60 + 50);
  return {date, oslo(date, minutes, *rc::gen::arbitrary<bool>())};
}

TEST(OsloRoom, IsSound) {
  EXPECT_TRUE(room::check_room(oslo_room()).empty());
}

RC_GTEST_PROP(RecurrenceProperty, DoneTodayIsDueOneIntervalLaterWhateverTheClocksDo, ()) {
  const Room room = oslo_room();
  const Work work = *rc::gen::elementOf(kWork);
  const Moment moment = draw_moment();
  std::vector<Entry> notebook = long_ago();
  notebook.push_back(entry(10, work.done, work.subject, moment.at, work.item));
  for (const int away : {0, 1, work.every_days - 1, work.every_days, work.every_days + 1,
                         *rc::gen::inRange(0, 200)}) {
    const auto tasks = of(tasks_on(room, notebook, moment.date + away), work.kind, work.subject);
    RC_ASSERT(tasks.size() == 1u);
    RC_ASSERT(tasks[0].every_days == work.every_days);
    RC_ASSERT(tasks[0].due.date - moment.date == work.every_days);
    RC_ASSERT(tasks[0].due.late_days == std::max(0, away - work.every_days));
  }
}

RC_GTEST_PROP(RecurrenceProperty, NothingPilesUpWhileTheKeeperIsAway, ()) {
  const Room room = oslo_room();
  // Every piece of work done a few times, in any order, then nothing for `away` days.
  std::vector<Entry> notebook = long_ago();
  std::map<std::pair<TaskKind, Subject>, Date> last;
  const Date home = day(2026, 3, 20);
  int n = 10;
  for (const Work& work : kWork) {
    if (work.done == EntryKind::full_cleaned && work.kind == TaskKind::spot_clean) continue;
    const int times = *rc::gen::inRange(1, 3);
    for (int i = 0; i < times; ++i) {
      const Date date = home - *rc::gen::inRange(0, 12);
      notebook.push_back(entry(n++, work.done, work.subject,
                               oslo(date, *rc::gen::inRange(0, 1440), false), work.item));
      Date& latest = last[{work.kind, work.subject}];
      latest = std::max(latest, date);
      if (work.done == EntryKind::full_cleaned) {  // and what a spot clean does
        Date& spot = last[{TaskKind::spot_clean, work.subject}];
        spot = std::max(spot, date);
      }
    }
  }
  const int away = *rc::gen::inRange(0, 250);
  const auto tasks = tasks_on(room, notebook, home + away);
  std::set<std::pair<TaskKind, Subject>> once;
  for (const Task& task : tasks) RC_ASSERT(once.insert({task.kind, task.subject}).second);
  for (const Work& work : kWork) {
    const auto found = of(tasks, work.kind, work.subject);
    RC_ASSERT(found.size() == 1u);
    const Date due = last.at({work.kind, work.subject}) + work.every_days;
    RC_ASSERT((found[0].due.date == due));
    RC_ASSERT(found[0].due.late_days == std::max(0, home + away - due));
  }
}

RC_GTEST_PROP(RecurrenceProperty, AnyRoomHasEachTaskOnceAndLateOnlyAfterItsDay, ()) {
  const Room room = *property::any_room();
  const Date date = day(2026, 10, 20) + *rc::gen::inRange(0, 12);
  const Instant now = parse_instant("2026-10-25T12:00:00Z").value();
  const auto entries = *property::any_entries(room, 30, now - Duration::days(60), now);
  std::set<std::pair<TaskKind, Subject>> once;
  for (const Task& task : tasks_on(room, entries, date)) {
    RC_ASSERT(once.insert({task.kind, task.subject}).second);
    RC_ASSERT(task.every_days >= 1);
    RC_ASSERT(task.due.late_days == std::max(0, date - task.due.date));
    RC_ASSERT(!task.title.empty() && !task.reason.empty());
  }
}

// ---- Pauses in feeding -------------------------------------------------------------------------

/// An animal's recent past, one event at a time, on winter days in Oslo (+01:00 throughout).
struct Event {
  EntryKind kind;
  Date date;
  Instant at;
};

std::vector<Event> draw_past(Date today) {
  std::vector<Event> past;
  std::set<Instant> taken;
  const int count = *rc::gen::inRange(0, 7);
  for (int i = 0; i < count; ++i) {
    const auto kind = *rc::gen::element(
        EntryKind::fed, EntryKind::fed, EntryKind::refused, EntryKind::in_shed, EntryKind::shed,
        EntryKind::brumation_started, EntryKind::brumation_ended, EntryKind::regurgitated);
    const Date date = today - *rc::gen::inRange(0, 35);
    const Instant at = oslo(date, *rc::gen::inRange(0, 1440), false);
    if (taken.insert(at).second) past.push_back({kind, date, at});
  }
  std::sort(past.begin(), past.end(), [](const Event& a, const Event& b) { return a.at < b.at; });
  return past;
}

/// When feeding is due by the rules as written for keepers: nothing in brumation; nothing in shed
/// (believed for 21 d, rule in_shed_believed) where feed_in_shed is no; an interval after the last
/// offer, half of it rounded up after a refusal (refusal_retry_share 50 %); not before the day of
/// waking, of the shed (feed_in_shed no), or 10 d after a regurgitation that no meal has followed
/// (regurgitation_pause).
std::optional<Date> feeding_due(const std::vector<Event>& past, Date today, int interval,
                                bool feeds_in_shed) {
  bool asleep = false, in_shed = false;
  std::optional<Event> offer, last_shed_note, shed, woke, regurgitated;
  for (const Event& event : past) {
    if (event.kind == EntryKind::brumation_started) asleep = true;
    if (event.kind == EntryKind::brumation_ended) asleep = false, woke = event;
    if (event.kind == EntryKind::in_shed) in_shed = true, last_shed_note = event;
    if (event.kind == EntryKind::shed) in_shed = false, shed = event;
    if (event.kind == EntryKind::fed || event.kind == EntryKind::refused) offer = event;
    if (event.kind == EntryKind::fed) regurgitated.reset();
    if (event.kind == EntryKind::regurgitated) regurgitated = event;
  }
  if (asleep) return std::nullopt;
  if (in_shed && !feeds_in_shed && today - last_shed_note->date <= 21) return std::nullopt;
  Date due = today;
  if (offer) {
    due = offer->date + (offer->kind == EntryKind::refused ? (interval + 1) / 2 : interval);
  }
  if (woke) due = std::max(due, woke->date);
  if (shed && !feeds_in_shed) due = std::max(due, shed->date);
  if (regurgitated) due = std::max(due, regurgitated->date + 10);
  return due;
}

RC_GTEST_PROP(FeedingProperty, KeepsItsPauses, ()) {
  const Room room = oslo_room();
  const Date today = day(2026, 2, 20);
  // species_facts.csv: corn_snake 10 d, feed_in_shed no; leopard_gecko 3 d, yes.
  const bool snake = *rc::gen::arbitrary<bool>();
  const Subject subject = snake ? kJuniper : kTopaz;
  const auto past = draw_past(today);
  std::vector<Entry> notebook = long_ago();
  int n = 10;
  for (const Event& event : past) {
    notebook.push_back(entry(n++, event.kind, subject, event.at));
    RC_LOG() << to_text(event.at) << " " << word(event.kind) << "\n";
  }
  const auto tasks = of(tasks_on(room, notebook, today), TaskKind::feeding, subject);
  const auto expected = feeding_due(past, today, snake ? 10 : 3, !snake);
  RC_ASSERT(tasks.size() == (expected ? 1u : 0u));
  if (expected) RC_ASSERT((tasks[0].due.date == *expected));
}

RC_GTEST_PROP(FeedingProperty, NeverInBrumationNorInAShedThatForbidsIt, ()) {
  const Room room = *property::any_room();
  const Date today = day(2026, 2, 20);
  const Instant now = oslo(today, 12 * 60, false);
  std::vector<Entry> entries = *property::any_entries(room, 10, now - Duration::days(90), now);
  int n = 1;
  std::map<std::string, std::pair<EntryKind, bool>> planted;  // and whether it may feed in shed
  for (const room::Animal& animal : room.animals) {
    const auto kind = *rc::gen::element(EntryKind::brumation_started, EntryKind::in_shed);
    // At least a day ago: at noon in Oslo it is tomorrow already in Apia.
    const Instant at = now - Duration::days(*rc::gen::inRange(1, 21));
    entries.push_back(entry(n++, kind, room::subject_of(animal), at));
    // Nothing later may end it.
    std::erase_if(entries, [&](const Entry& e) {
      return e.subject == room::subject_of(animal) && e.at > at;
    });
    planted[animal.id.text()] = {
        kind, room::profile_of(room, animal).text(species::Key::feed_in_shed) != "no"};
  }
  for (const Task& task : tasks_on(room, entries, today)) {
    if (task.kind != TaskKind::feeding) continue;
    const auto& [kind, may_feed] = planted.at(task.animal.text());
    RC_ASSERT((kind == EntryKind::in_shed));
    RC_ASSERT(may_feed);
  }
}

}  // namespace
}  // namespace warmside::round
