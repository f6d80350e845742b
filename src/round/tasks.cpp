#include "round/tasks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "diet/feeding_advice.h"
#include "light/enclosure_uv.h"
#include "room/check_result.h"
#include "round/feeding.h"
#include "safety/fire.h"
#include "stores/jars.h"

namespace warmside::round {
namespace {

using room::AnimalDay;
using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;
using species::Key;
using species::Situation;

/// Builds the tasks of one day.
class Planner {
 public:
  Planner(const room::Day& day, const std::set<room::AnimalId>& watched)
      : day_(day), watched_(watched), rules_(species::care_rules()), pantry_(*day.room) {}

  std::vector<Task> plan() {
    for (const AnimalDay& animal : day_.animals) plan_animal(animal);
    plan_thawing();
    for (const room::Enclosure& enclosure : day_.room->enclosures) {
      if (!room::in_use(enclosure, day_.date)) continue;
      plan_enclosure(enclosure);
      plan_lamp_replacements(enclosure);
    }
    plan_equipment();
    plan_standing_tasks();
    return std::move(tasks_);
  }

 private:
  // --- one animal ---

  void plan_animal(const AnimalDay& animal) {
    plan_feeding(animal);
    plan_weighing(animal);
    plan_shed_check(animal);
    if (animal.quarantine_since) plan_quarantine_checks(animal);
  }

  Task animal_task(TaskKind kind, const AnimalDay& animal, std::string title) {
    Task task;
    task.kind = kind;
    task.title = std::move(title);
    task.subject = room::subject_of(*animal.animal);
    task.enclosure = animal.home;
    task.animal = animal.animal->id;
    return task;
  }

  void plan_feeding(const AnimalDay& animal) {
    const auto feeding = next_feeding(animal, day_);
    if (!feeding) return;
    Task task = animal_task(TaskKind::feeding, animal, "feed " + room::called(*animal.animal));
    task.every_days = feeding->every_days;
    task.due = feeding->due;
    task.reason = feeding->reason;
    task.detail = feeding_detail(animal, *feeding, task);
    tasks_.push_back(std::move(task));
  }

  /// Jars of a meal that are to be replaced by then.
  std::string old_jars(const Task& task, Date on) const {
    const int lasts = whole_days(rules_.interval("jar_age", Group::other, {})->every);
    std::string words;
    for (const room::JarId& id : jars_of(task)) {
      const room::Jar* jar = room::find(day_.room->jars, id);
      const auto opened = jar == nullptr ? std::nullopt : stores::opened_on(day_, *jar);
      if (opened && *opened + lasts <= on) {
        words += fmt::format("; {} was opened {}: replace it first", id.text(), to_text(*opened));
      }
    }
    return words;
  }

  /// What is fed, in the words of diet/feeding_advice.h, with the amount and what to mind; notes
  /// in the task what it takes.
  std::string feeding_detail(const AnimalDay& animal, const Feeding& feeding, Task& task) {
    const Date on = std::max(feeding.due.date, day_.date);
    diet::Advice advice;
    if (feeding.pause.empty()) {
      advice = diet::feeding_advice(animal, day_, pantry_, on,
                                    meal_by_rota(animal, day_, pantry_, feeding));
    } else {  // the first meal after a regurgitation is no usual one
      advice.limits = animal.profile.text(Key::meal_rule);
    }
    for (const diet::Thaw& thaw : advice.thaw) {
      thawing_[{on - diet::kThawDays, thaw.supply->id}].push_back(
          {room::called(*animal.animal), thaw.count, feeding.every_days});
      task.thawed.push_back(thaw.supply->id);
    }
    task.courses = std::move(advice.courses);
    std::string detail;
    for (const std::string& part : {advice.what, advice.amount, year_words(animal, advice),
                                    advice.preparation, amount_for(animal), advice.limits}) {
      if (!part.empty()) detail += (detail.empty() ? "" : "; ") + part;
    }
    return detail + old_jars(task, on) + feeding.pause;
  }

  /// Whether a year of always the same meal is surely off what the animal burns by its own record.
  std::string year_words(const AnimalDay& animal, const diet::Advice& advice) {
    const auto every = diet::feeding_interval_d(animal);
    if (!advice.always || !advice.meal_kj.known() || !every || animal.animal->count != 1) return "";
    const auto need = diet::need_of(animal, day_, pantry_, known_of(animal, day_, false));
    if (!need || !need->corrected) return "";
    switch (diet::year_of(advice.meal_kj, *every, need->need).verdict) {
      case diet::EnergyVerdict::surely_too_little:
        return "a year of such meals is less than it burns by its own meals and mass";
      case diet::EnergyVerdict::surely_too_much:
        return "a year of such meals is more than half again what it burns by its own meals and "
               "mass";
      case diet::EnergyVerdict::surely_enough:
      case diet::EnergyVerdict::unsure:
      case diet::EnergyVerdict::unknown:
        return "";
    }
    return "";
  }

  /// What is to be taken from the freezer, all animals of a day together.
  void plan_thawing() {
    for (const auto& [when, wanted] : thawing_) {
      const Date date = when.first;
      const room::Supply* supply = room::find(day_.room->supplies, when.second);
      if (date < day_.date) continue;  // its feeding says what to do now
      int count = 0;
      std::string whose;
      for (const Thawed& one : wanted) {
        count += one.count;
        whose += fmt::format("{}{} for {}", whose.empty() ? "" : ", ", one.count, one.whom);
      }
      Task task;
      task.kind = TaskKind::thaw;
      task.every_days = wanted.front().every_days;
      task.title = fmt::format("take {} x {} from the freezer", count, supply->name);
      task.subject = {SubjectKind::supply, supply->id.text()};
      task.detail = fmt::format(
          "{}; in a closed bag in the refrigerator at {} or below until {}; once thawed use within "
          "{}, never refreeze",
          whose, for_people(rules_.value<Temperature>("thaw_temperature"), day_.room->info.units),
          to_text(date + diet::kThawDays),
          for_people(rules_.value<Duration>("thawed_prey_use"), day_.room->info.units));
      task.due.date = date;
      task.reason =
          fmt::format("the day before it is fed; {}", word(rules_.rule("thawed_prey_use").trust));
      tasks_.push_back(std::move(task));
    }
  }

  /// How much a meal is by the profile's share of the animal's mass, where that is known.
  std::string amount_for(const AnimalDay& animal) {
    const Key key = animal.young ? Key::meal_share_juvenile : Key::meal_share_adult;
    const species::Fact* share = animal.profile.find(key);
    if (share == nullptr || animal.weighing == nullptr || animal.animal->count != 1) return "";
    const auto& range = std::get<Range<Percentage>>(share->value);
    const Mass mass = *animal.weighing->mass;
    const Range<Mass> meal{mass * range.low.share(), mass * range.high.share()};
    return fmt::format(
        "about {} ({} of {}, weighed {}; {})", for_people(meal, day_.room->info.units),
        for_people(range, day_.room->info.units), for_people(mass, day_.room->info.units),
        to_text(day_.date_of(*animal.weighing)), word(share->trust));
  }

  std::vector<Situation> situations(const AnimalDay& animal) const {
    auto holding = animal.situations();
    if (watched_.contains(animal.animal->id)) holding.push_back(Situation::observation);
    return holding;
  }

  void plan_weighing(const AnimalDay& animal) {
    const species::Fact* own = animal.profile.find(Key::weigh_interval);
    const bool keepers = own != nullptr && own->trust == Trust::keeper;
    // A group that is not told apart is weighed only where the keeper says so.
    if (animal.animal->count != 1 && !keepers) return;
    const auto* row = rules_.interval("weighing", animal.profile.group, situations(animal));
    int every = own == nullptr ? 30 : whole_days(std::get<Duration>(own->value));
    std::string why = own == nullptr ? "" : std::string(word(own->trust));
    if (row != nullptr && !keepers && (own == nullptr || row->situation != Situation::any)) {
      every = own == nullptr ? whole_days(row->every) : std::min(every, whole_days(row->every));
      why = fmt::format(
          "{}{}", row->situation == Situation::any ? "" : fmt::format("{}, ", word(row->situation)),
          word(row->trust));
    }
    Task task = animal_task(TaskKind::weighing, animal, "weigh " + room::called(*animal.animal));
    task.detail = animal.brumating_since ? "quickly and gently: it is not fed and stays cool"
                                         : "before it is fed";
    if (animal.weighing != nullptr) {
      task.last_mass = animal.weighing->mass;
      task.detail +=
          fmt::format("; {} on {}", for_people(*animal.weighing->mass, day_.room->info.units),
                      to_text(day_.date_of(*animal.weighing)));
    }
    finish(std::move(task), every, animal.weighing, why);
  }

  void plan_shed_check(const AnimalDay& animal) {
    const Subject subject = room::subject_of(*animal.animal);
    const Entry* shed = day_.history->latest(subject, EntryKind::shed);
    const Entry* seen = latest_check(subject, "shed", Date());
    const bool stuck = shed != nullptr && shed->item.find("stuck") != std::string::npos &&
                       (seen == nullptr || seen->at < shed->at);
    if (!animal.in_shed_since && !stuck) return;
    // A look at an earlier shed says nothing of this one.
    const Date began = stuck ? day_.date_of(*shed) : *animal.in_shed_since;
    const Entry* checked = latest_check(subject, "shed", began);
    Task task = animal_task(TaskKind::shed_check, animal,
                            fmt::format("look at the shed of {}", room::called(*animal.animal)));
    task.detail =
        stuck ? "stuck on " + to_text(day_.date_of(*shed)) +
                    ": look at eyes, toes and tail tip; offer a humid hide; what stays on is for "
                    "a veterinarian, do not pull"
              : "in shed since " + to_text(*animal.in_shed_since) +
                    ": leave it in peace, keep the humid hide moist" +
                    (animal.profile.text(Key::feed_in_shed) == "no" ? ", no food until it has shed"
                                                                    : "");
    finish(std::move(task), 1, checked, "while in shed, common practice");
  }

  void plan_quarantine_checks(const AnimalDay& animal) {
    const Subject subject = room::subject_of(*animal.animal);
    const Date began = *animal.quarantine_since;
    if (!is_amphibian(animal.profile.group)) {
      if (const auto* row = interval("quarantine_mite_check", animal)) {
        Task task = animal_task(TaskKind::quarantine_mite_check, animal,
                                fmt::format("check {} for mites", room::called(*animal.animal)));
        task.detail = "eyes, chin, water dish; three clean checks two weeks apart";
        finish(std::move(task), whole_days(row->every), latest_check(subject, "mites", began),
               "quarantine since " + to_text(began));
      }
    }
    const auto* row = interval("quarantine_faecal_test", animal);
    int samples = 0;
    const Entry* last_sample = nullptr;
    for (const room::Sample& sample :
         room::samples_of(day_.history->all(subject, EntryKind::checked), "faecal sample")) {
      if (day_.date_of(*sample.taken) < began) continue;
      ++samples;
      last_sample = sample.taken;
    }
    const int wanted = std::stoi(rules_.rule("quarantine_faecal_negatives").value);
    if (row == nullptr || samples >= wanted) return;
    Task task = animal_task(TaskKind::quarantine_faecal_test, animal,
                            fmt::format("faecal sample of {}", room::called(*animal.animal)));
    task.detail =
        fmt::format("number {} of {}; for the veterinarian's laboratory{}{}", samples + 1, wanted,
                    animal.profile.text(Key::quarantine_tests).empty() ? "" : ": ",
                    animal.profile.text(Key::quarantine_tests));
    finish(std::move(task), whole_days(row->every), last_sample,
           "quarantine since " + to_text(began));
  }

  const species::CareInterval* interval(std::string_view task, const AnimalDay& animal) const {
    return rules_.interval(task, animal.profile.group, situations(animal));
  }

  /// The latest check of one thing from a day on. Null: none.
  const Entry* latest_check(const Subject& subject, std::string_view item, Date since) const {
    const Entry* found = nullptr;
    for (const Entry& entry : day_.history->all(subject, EntryKind::checked)) {
      if (room::result_of(entry).what == item && day_.date_of(entry) >= since) found = &entry;
    }
    return found;
  }

  // --- one enclosure ---

  void plan_enclosure(const room::Enclosure& enclosure) {
    const auto animals = day_.animals_in(enclosure.id);
    if (animals.empty()) return;
    if (enclosure.water_dish) {
      plan_for(enclosure, animals, TaskKind::water, "water", EntryKind::watered, "fresh water",
               std::string("wash the dish") + water_for(animals));
    }
    if (!anyone_awake_in(enclosure.id)) return;  // nothing is done round sleeping animals
    plan_for(enclosure, animals, TaskKind::misting, "misting", EntryKind::misted, "mist",
             "until surfaces are wet, then let them dry" + water_for(animals));
    plan_for(enclosure, animals, TaskKind::spot_clean, "spot_clean", EntryKind::spot_cleaned,
             "spot clean", "take out droppings, shed skin and left-over food");
    plan_for(enclosure, animals, TaskKind::full_clean, "full_clean", EntryKind::full_cleaned,
             "full clean",
             "animal out first; clean before disinfecting, then rinse and dry; never mix bleach "
             "with ammonia or acid");
  }

  /// What to say of the water where amphibians live.
  static std::string water_for(const std::vector<const AnimalDay*>& animals) {
    const bool amphibians = std::any_of(animals.begin(), animals.end(), [](const AnimalDay* a) {
      return is_amphibian(a->profile.group);
    });
    return amphibians ? "; dechlorinated water" : "";
  }

  /// Whether an animal lives there that is not in brumation.
  bool anyone_awake_in(const room::EnclosureId& enclosure) const {
    return std::any_of(day_.animals.begin(), day_.animals.end(), [&](const AnimalDay& a) {
      return a.home == enclosure && !a.brumating_since;
    });
  }

  /// The end of a brumation in which nobody there was awake: the first waking of those awake now.
  std::optional<Date> woke(const std::vector<const AnimalDay*>& animals) const {
    std::optional<Date> first;
    for (const AnimalDay* animal : animals) {
      if (animal->brumating_since) continue;
      const Entry* ended =
          day_.history->latest(room::subject_of(*animal->animal), EntryKind::brumation_ended);
      if (ended == nullptr) return std::nullopt;
      const Date date = day_.date_of(*ended);
      if (!first || date < *first) first = date;
    }
    return first;
  }

  /// A task of an enclosure falls due when it does for the first of its animals.
  void plan_for(const room::Enclosure& enclosure, const std::vector<const AnimalDay*>& animals,
                TaskKind kind, std::string_view rule, EntryKind done, const char* title,
                std::string detail) {
    const species::CareInterval* shortest = nullptr;
    for (const AnimalDay* animal : animals) {
      const auto* row = interval(rule, *animal);
      if (row != nullptr && (shortest == nullptr || row->every < shortest->every)) shortest = row;
    }
    if (shortest == nullptr) return;
    const Entry* last = day_.history->latest(room::subject_of(enclosure), done);
    // A full clean does what a spot clean does.
    if (kind == TaskKind::spot_clean) {
      last = day_.history->latest_of(room::subject_of(enclosure),
                                     {EntryKind::spot_cleaned, EntryKind::full_cleaned});
    }
    Task task;
    task.kind = kind;
    task.title = title;
    task.subject = room::subject_of(enclosure);
    task.enclosure = enclosure.id;
    task.detail = std::move(detail);
    finish(std::move(task), whole_days(shortest->every), last,
           shortest->situation == Situation::any
               ? std::string(word(shortest->trust))
               : fmt::format("{}, {}", word(shortest->situation), word(shortest->trust)),
           {}, kind == TaskKind::water ? std::nullopt : woke(animals));
  }

  // --- equipment ---

  void plan_equipment() {
    const auto every = [&](std::string_view task) {
      const auto* row = rules_.interval(task, Group::other, {});
      WS_CHECK(row != nullptr);
      return row;
    };
    const auto plan = [&](TaskKind kind, std::string title, Subject subject,
                          room::EnclosureId enclosure, std::string detail,
                          const species::CareInterval* row, const Entry* last) {
      Task task;
      task.kind = kind;
      task.title = std::move(title);
      task.subject = std::move(subject);
      task.enclosure = std::move(enclosure);
      task.detail = std::move(detail);
      finish(std::move(task), whole_days(row->every), last, std::string(word(row->trust)));
    };
    for (const room::Thermostat& thermostat : day_.room->thermostats) {
      if (!room::in_use(thermostat, day_.date)) continue;
      const Subject subject{SubjectKind::thermostat, thermostat.id.text()};
      plan(TaskKind::thermostat_test, "test thermostat " + thermostat.id.text(), subject,
           thermostat.enclosure, "compare the probe with a second thermometer; feel no cables",
           every("thermostat_test"),
           day_.history->latest_of(subject, {EntryKind::tested, EntryKind::replaced}));
    }
    for (const room::SafetyDevice& device : day_.room->safety_devices) {
      if (device.kind == room::SafetyDeviceKind::extinguisher) continue;
      const Subject subject{SubjectKind::safety_device, device.id.text()};
      plan(TaskKind::smoke_alarm_test,
           fmt::format("test the {} {}", word(device.kind), device.id.text()), subject, {},
           "press its button and listen from where people sleep", every("smoke_alarm_test"),
           day_.history->latest(subject, EntryKind::tested));
      plan_battery(device, subject);
    }
    if (anything_plugged_in()) {
      plan(TaskKind::cord_check, "look over cords, plugs and strips", {}, {},
           "unplug each first; brown or melted spots, cracks, crushed or loose cords, plugs that "
           "were warm, dust and damp; press the test button of the RCD (GFCI) as its maker says; "
           "what is damaged is used no more, what is behind a plug is for a licensed electrician",
           every("cord_check"), latest_check({}, "cords", Date()));
    }
    for (const room::Lamp& lamp : day_.room->lamps) {
      if (!lamp.uvb || !room::in_use(lamp, day_.date) || !anyone_awake_in(lamp.enclosure)) continue;
      const Subject subject{SubjectKind::lamp, lamp.id.text()};
      plan(TaskKind::uv_reading, "UV reading under " + lamp.id.text(), subject, lamp.enclosure,
           "at the basking place, after an hour of burning; do not look into the lamp",
           every("uv_reading"), day_.history->latest(subject, EntryKind::uv_reading));
    }
    for (const room::Jar& jar : day_.room->jars) {
      if (room::in_use(jar, day_.date)) plan_jar(jar, every("jar_age"));
    }
  }

  bool anything_plugged_in() const {
    const auto any = [&](const auto& records) {
      return std::any_of(records.begin(), records.end(),
                         [&](const auto& record) { return room::in_use(record, day_.date); });
    };
    return any(day_.room->heaters) || any(day_.room->lamps) || any(day_.room->appliances);
  }

  /// A battery falls due its life after it was new; one of which nobody has said so does not.
  void plan_battery(const room::SafetyDevice& device, const Subject& subject) {
    const auto& rule = rules_.rule("alarm_battery_life");
    Recurrence recurrence;
    recurrence.last_done = safety::battery_since(day_, device);
    if (!recurrence.last_done) return;
    recurrence.every_days = whole_days(rules_.value<Duration>(rule.name));
    Task task;
    task.kind = TaskKind::alarm_battery;
    task.title = fmt::format("new battery for the {} {}", word(device.kind), device.id.text());
    task.subject = subject;
    task.detail = "then press its button, and write the date into the room file (battery)";
    task.every_days = recurrence.every_days;
    task.due = next_due(recurrence, day_.date);
    task.reason = fmt::format("{}, new on {}; {}", every_words(recurrence.every_days),
                              to_text(*recurrence.last_done), word(rule.trust));
    tasks_.push_back(std::move(task));
  }

  /// A lamp falls due once, on the day that its readings or its usual life give.
  void plan_lamp_replacements(const room::Enclosure& enclosure) {
    if (!anyone_awake_in(enclosure.id)) return;
    for (const light::LampUv& uv : light::enclosure_uv(day_, enclosure).lamps) {
      const light::Replacement& replacement = uv.replacement;
      if (!replacement.due) continue;
      Task task;
      task.kind = TaskKind::lamp_replacement;
      task.title = "replace the lamp " + uv.lamp->id.text();
      task.subject = {SubjectKind::lamp, uv.lamp->id.text()};
      task.enclosure = enclosure.id;
      task.detail = fmt::format(
          "unplugged and cold; hang the new one as far away as its maker says, and read it once it "
          "is burnt in, after {:.0f} hours of light; never look into it",
          rules_.value<Duration>("lamp_burn_in").hours());
      task.due.date = *replacement.due;
      task.due.late_days = std::max(day_.date - task.due.date, 0);
      task.reason = replacement.why;
      if (replacement.early && replacement.late && *replacement.early < *replacement.late) {
        task.reason += fmt::format("; between {} and {}", to_text(*replacement.early),
                                   to_text(*replacement.late));
      } else if (replacement.early && !replacement.late) {
        task.reason += fmt::format("; not before {}", to_text(*replacement.early));
      }
      tasks_.push_back(std::move(task));
    }
  }

  /// A jar falls due once, its age after it was opened; one that was never opened does not.
  void plan_jar(const room::Jar& jar, const species::CareInterval* row) {
    const Subject subject{SubjectKind::jar, jar.id.text()};
    Recurrence recurrence;
    recurrence.last_done = stores::opened_on(day_, jar);
    if (!recurrence.last_done) return;
    recurrence.every_days = whole_days(row->every);
    Task task;
    task.kind = TaskKind::jar_age;
    task.title = "replace the jar " + jar.id.text();
    task.subject = subject;
    task.detail = fmt::format("{}, opened {}; an opened jar loses strength", word(jar.contents),
                              to_text(*recurrence.last_done));
    task.every_days = recurrence.every_days;
    task.due = next_due(recurrence, day_.date);
    task.reason = fmt::format("{} days after opening; {}", recurrence.every_days, word(row->trust));
    tasks_.push_back(std::move(task));
  }

  // --- the keeper's own ---

  void plan_standing_tasks() {
    for (const room::StandingTask& own : day_.room->tasks) {
      if (!room::in_use(own, day_.date)) continue;
      const AnimalDay* animal = nullptr;
      for (const AnimalDay& candidate : day_.animals) {
        if (candidate.animal->id == own.animal) animal = &candidate;
      }
      if (!own.animal.empty() && animal == nullptr) continue;  // the animal is not here
      Task task;
      task.kind = TaskKind::standing;
      task.title = own.title;
      task.subject = {SubjectKind::task, own.id.text()};
      task.enclosure = animal != nullptr ? animal->home : own.enclosure;
      task.animal = own.animal;
      task.detail = own.detail;
      const Entry* last = day_.history->latest(task.subject, EntryKind::done);
      finish(std::move(task), whole_days(own.every), last, "your own task", own.start);
    }
  }

  /// Fills in when the task is due and why, and adds it.
  void finish(Task task, int every, const Entry* last, const std::string& rule,
              std::optional<Date> first_due = {}, std::optional<Date> not_before = {}) {
    Recurrence recurrence;
    recurrence.every_days = every;
    recurrence.first_due = first_due;
    recurrence.not_before = not_before;
    if (last != nullptr) recurrence.last_done = day_.date_of(*last);
    task.every_days = every;
    task.due = next_due(recurrence, day_.date);
    task.reason = fmt::format(
        "{}, {}{}", every_words(every),
        last == nullptr ? "not in the notebook yet" : "last " + to_text(day_.date_of(*last)),
        rule.empty() ? "" : "; " + rule);
    tasks_.push_back(std::move(task));
  }

  const room::Day& day_;
  const std::set<room::AnimalId>& watched_;
  const species::CareRules& rules_;
  const diet::Pantry pantry_;
  struct Thawed {
    std::string whom;
    int count = 0;
    int every_days = 1;
  };
  std::map<std::pair<Date, room::SupplyId>, std::vector<Thawed>> thawing_;
  std::vector<Task> tasks_;
};

}  // namespace

std::set<room::JarId> jars_of(const Task& task) {
  std::set<room::JarId> jars;
  for (const diet::Course& course : task.courses) {
    if (!course.jar.empty()) jars.insert(course.jar);
  }
  return jars;
}

std::vector<Task> tasks_of(const room::Day& day, const std::set<room::AnimalId>& watched) {
  return Planner(day, watched).plan();
}

}  // namespace warmside::round
