#include "round/round.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "climate/computed.h"
#include "climate/readings.h"
#include "diet/findings.h"
#include "health/signs.h"
#include "hygiene/findings.h"
#include "light/findings.h"
#include "light/timers.h"
#include "safety/findings.h"
#include "stores/jars.h"

namespace warmside::round {
namespace {

/// Work is reported as overdue once it is late by more than half its interval: a day's slip in a
/// monthly task is no news. Common practice, no source.
bool is_overdue(const Task& task) {
  // Of lamps light::findings speaks.
  if (task.kind == TaskKind::lamp_replacement) return false;
  return task.due.late_days * 2 > task.every_days;
}

const char* noun_for(TaskKind kind) {
  switch (kind) {
    case TaskKind::smoke_alarm_test:
      return "Testing the alarms";
    case TaskKind::alarm_battery:
      return "Changing batteries of alarms";
    case TaskKind::cord_check:
      return "Looking over cords and plugs";
    case TaskKind::jar_age:
      return "Replacing old jars";
    case TaskKind::thaw:
      return "Taking prey from the freezer";
    case TaskKind::thermostat_test:
      return "Testing thermostats";
    case TaskKind::shed_check:
      return "Looking at sheds";
    case TaskKind::quarantine_mite_check:
      return "Checking for mites";
    case TaskKind::quarantine_faecal_test:
      return "Taking faecal samples";
    case TaskKind::weighing:
      return "Weighing";
    case TaskKind::water:
      return "Fresh water";
    case TaskKind::feeding:
      return "Feeding";
    case TaskKind::uv_reading:
      return "Reading UV";
    case TaskKind::lamp_replacement:
      return "Replacing lamps";
    case TaskKind::misting:
      return "Misting";
    case TaskKind::spot_clean:
      return "Spot cleaning";
    case TaskKind::full_clean:
      return "Full cleaning";
    case TaskKind::standing:
      return "Work of your own";
  }
  return "Work";
}

/// One finding for each kind of overdue work: after days away a keeper wants one line, not forty.
std::vector<Finding> overdue_work(const std::vector<Task>& tasks) {
  constexpr std::size_t kMostNamed = 8;
  std::map<TaskKind, std::vector<const Task*>> late;
  for (const Task& task : tasks) {
    if (task.due.late_days > 0 && is_overdue(task)) late[task.kind].push_back(&task);
  }
  std::vector<Finding> found;
  for (auto& [kind, list] : late) {
    std::stable_sort(list.begin(), list.end(), [](const Task* a, const Task* b) {
      return a->due.late_days > b->due.late_days;
    });
    const Task& worst = *list.front();
    Finding finding;
    // The longest overdue need not be the most pressing: daily work is missed sooner.
    const bool pressing = std::any_of(list.begin(), list.end(), [](const Task* task) {
      return task->due.late_days >= task->every_days;
    });
    finding.when = pressing ? When::today : When::this_week;
    const bool one = list.size() == 1;
    finding.subject_kind = one ? std::string(word(worst.subject.kind)) : "room";
    finding.subject = one ? worst.subject.id : "room";
    if (one) {
      finding.headline =
          fmt::format("Overdue by {}: {}", days_words(worst.due.late_days), worst.title);
      if (worst.animal.empty() && !worst.enclosure.empty()) {
        finding.headline += fmt::format(" ({})", worst.enclosure.text());
      }
      finding.evidence = fmt::format("Due {}, {} late; {}", to_text(worst.due.date),
                                     days_words(worst.due.late_days), worst.reason);
    } else {  // the round has each one's reason
      finding.headline = fmt::format("{} is overdue {} times, the longest by {}", noun_for(kind),
                                     list.size(), days_words(worst.due.late_days));
      finding.evidence = "Late: ";
      for (std::size_t i = 0; i < std::min(list.size(), kMostNamed); ++i) {
        const Task& task = *list[i];
        const bool of_place = task.animal.empty() && kind != TaskKind::standing &&
                              task.subject.kind == room::SubjectKind::enclosure;
        finding.evidence += fmt::format("{}{}: {}", i == 0 ? "" : "; ",
                                        of_place ? task.enclosure.text() : task.title,
                                        days_words(task.due.late_days));
      }
    }
    if (list.size() > kMostNamed) {
      finding.evidence += fmt::format("; and {} more", list.size() - kMostNamed);
    }
    finding.evidence += ".";
    finding.advice =
        "Do it today at its stop. If it was done and not written down, jot it with its time.";
    finding.source = "the interval's own source; half an interval late: common practice, no source";
    finding.module = "round";
    found.push_back(std::move(finding));
  }
  return found;
}

std::string place_words(const room::Enclosure& enclosure) {
  std::string text = enclosure.rack;
  if (enclosure.shelf)
    text += fmt::format("{}shelf {}", text.empty() ? "" : ", ", *enclosure.shelf);
  if (enclosure.position) {
    text += fmt::format("{}place {}", text.empty() ? "" : ", ", *enclosure.position);
  }
  if (!enclosure.place.empty()) text += (text.empty() ? "" : "; ") + enclosure.place;
  return text;
}

/// The enclosure at whose stop a task is done; empty: preparation.
room::EnclosureId stop_of(const room::Day& day, const Task& task) {
  const room::Enclosure* home = room::find(day.room->enclosures, task.enclosure);
  return home != nullptr && room::in_use(*home, day.date) ? home->id : room::EnclosureId{};
}

/// Where there is work today, and what it takes.
std::vector<hygiene::Visit> visits_for(const room::Day& day, const std::vector<Task>& tasks) {
  std::vector<hygiene::Visit> visits;
  for (const Task& task : tasks) {
    if (task.due.date > day.date) continue;
    visits.push_back({stop_of(day, task), jars_of(task), {task.thawed.begin(), task.thawed.end()}});
  }
  return visits;
}

Stop stop_at(const room::Day& day, const hygiene::Place& place) {
  Stop stop;
  stop.service_class = place.service_class;
  stop.reason = place.reason;
  stop.before = place.before;
  if (place.enclosure == nullptr) {
    stop.title = "Preparation";
    return stop;
  }
  stop.enclosure = place.enclosure->id;
  stop.title = room::called(*place.enclosure);
  stop.where = place_words(*place.enclosure);
  for (const room::AnimalDay* animal : day.animals_in(place.enclosure->id)) {
    stop.animals.push_back(animal->animal->id);
    stop.animal_names.push_back(room::called(*animal->animal));
  }
  return stop;
}

std::vector<std::string> cautions_for(const room::Room& room) {
  // Salmonella: CDC advice as archived (docs/sources.bib, cdc_reptiles); frozen rodents the same.
  std::vector<std::string> cautions{
      "Wash hands with soap and water after the animals, their food, their water or anything of "
      "theirs: healthy reptiles and amphibians carry Salmonella. Keep all of it out of the "
      "kitchen.",
      "Frozen rodents carry Salmonella too, and freezing does not kill it: keep them apart from "
      "human food, and warm none in the kitchen's microwave. Clean enclosures outdoors, else in a "
      "laundry sink or bath that is disinfected at once; never in the kitchen sink."};
  switch (room.info.vulnerable_person) {
    case room::Answer::yes:
      cautions.emplace_back(
          "Someone in this home is under 5, over 65 or has weak immunity: no contact with the "
          "animals or their gear for them; ask a doctor whether the animals can stay.");
      break;
    case room::Answer::unknown:
      cautions.emplace_back(
          "Say in the room file whether a child under 5, someone over 65 or someone with weak "
          "immunity lives in the home (vulnerable_person): the cautions change.");
      break;
    case room::Answer::no:
      break;
  }
  return cautions;
}

}  // namespace

std::span<const Finder> all_finders() {
  static const std::vector<Finder> finders{
      health::findings,  climate::findings,     climate::computed_findings,
      light::findings,   light::timer_findings, diet::findings,
      hygiene::findings, safety::findings,      stores::findings};
  return finders;
}

Round lay_out(const room::Day& day, std::span<const Finder> finders) {
  Round round;
  round.date = day.date;
  round.room_name = day.room->info.name;
  round.cautions = cautions_for(*day.room);
  for (const Finder& finder : finders) {
    for (Finding& finding : finder(day)) {
      // What is wrong with its food makes no animal a patient.
      if (finding.subject_kind == "animal" && finding.when != When::good_to_know &&
          finding.module != "diet") {
        round.watched.insert(room::AnimalId::trusted(finding.subject));
      }
      round.findings.push_back(std::move(finding));
    }
  }
  std::vector<Task> tasks = tasks_of(day, round.watched);
  for (Finding& finding : overdue_work(tasks)) round.findings.push_back(std::move(finding));
  sort_findings(round.findings);

  std::stable_sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) {
    return std::tie(a.kind, a.animal, a.subject) < std::tie(b.kind, b.animal, b.subject);
  });
  const auto order = hygiene::order_of_service(day, round.watched, visits_for(day, tasks));
  round.order_cost_s = order.cost_s;
  round.order_bound_s = order.bound_s;
  for (const hygiene::Place& place : order.places) {
    Stop stop = stop_at(day, place);
    for (const Task& task : tasks) {
      if (task.due.date <= day.date && stop_of(day, task) == stop.enclosure) {
        stop.tasks.push_back(task);
      }
    }
    if (!stop.tasks.empty()) round.stops.push_back(std::move(stop));
  }
  if (!round.stops.empty()) {
    round.after = {
        "Hands: wash with soap and water; change the overgarment and do not go back up "
        "the list today without doing so",
        "Tools: clean, then disinfect, rinse and dry those that were used"};
  }
  for (const Task& task : tasks) {
    if (task.due.date > day.date && task.due.date <= day.date + kDaysAhead) {
      round.ahead.push_back(task);
    }
  }
  std::stable_sort(round.ahead.begin(), round.ahead.end(),
                   [](const Task& a, const Task& b) { return a.due.date < b.due.date; });
  return round;
}

}  // namespace warmside::round
