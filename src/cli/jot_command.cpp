// jot: short forms that write entries into the notebook.

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "cli/face.h"
#include "hygiene/disinfectants.h"
#include "room/check_result.h"
#include "room/look_up.h"

namespace warmside::cli {
namespace {

using room::Entry;
using room::EntryKind;
using room::Room;
using room::Subject;
using room::SubjectKind;

/// The options of all short forms; each form uses some.
struct JotOptions {
  BookOption book;
  std::string at, by, id, note;
  std::vector<std::string> words;
  std::string food, jar, to, item, outcome, with_whom;
  std::string mass;
  int count = -1;
  int minutes = -1;
  bool stuck = false, full = false, ended = false;
  bool json = false;
};

/// Makes entries from the words of one form. Problems are thrown as Refusal, so that a form reads
/// straight on.
struct Refusal {
  Problem problem;
};

class Scribe {
 public:
  Scribe(const JotOptions& options, const Room& room, Face& face)
      : options_(options), room_(room), face_(face), at_(not_in_the_future(read_time())) {}

  std::vector<Entry> entries;

  Entry& add(EntryKind kind, Subject subject) {
    Entry entry;
    entry.at = at_;
    entry.kind = kind;
    entry.subject = std::move(subject);
    entry.note = options_.note;
    if (!options_.by.empty()) {
      entry.by = room::KeeperId::trusted(options_.by);
      if (room::find(room_.keepers, entry.by) == nullptr) {
        refuse("--by", "no keeper of this id", "the id of a [[keeper]]", options_.by);
      }
    }
    entry.id = make_uuid_v7(face_.now, face_.random);
    entries.push_back(std::move(entry));
    return entries.back();
  }

  Subject animal(const std::string& name) const {
    const auto found = room::find_animal(room_, name);
    if (!found) throw Refusal{found.problem()};
    return room::subject_of(**found);
  }
  Subject enclosure(const std::string& name) const {
    const auto found = room::find_enclosure(room_, name);
    if (!found) throw Refusal{found.problem()};
    return room::subject_of(**found);
  }

  /// Any thing of the given kinds by its id; animals and enclosures also by name.
  Subject thing(const std::string& name, std::initializer_list<SubjectKind> kinds) const {
    for (const SubjectKind kind : kinds) {
      if (kind == SubjectKind::room && name == "room") return {};
      if (kind == SubjectKind::animal) {
        if (const auto found = room::find_animal(room_, name)) return room::subject_of(**found);
      } else if (kind == SubjectKind::enclosure) {
        if (const auto found = room::find_enclosure(room_, name)) return room::subject_of(**found);
      }
      bool there = false;
      Room::for_each_kind(room_, [&](const auto& records) {
        for (const auto& record : records) {
          there = there || (record.kWord == word(kind) && record.id.text() == name);
        }
      });
      if (there) return {kind, name};
    }
    std::string expected = "the id of one of:";
    for (const SubjectKind kind : kinds) expected += " " + std::string(word(kind));
    refuse("", "the room has nothing of this id", expected, name);
  }

  template <class Q>
  Q quantity(const std::string& text) const {
    const auto value = parse<Q>(text);
    if (!value) throw Refusal{value.problem()};
    return *value;
  }

  [[noreturn]] void refuse(std::string field, std::string what, std::string expected,
                           std::string found) const {
    throw Refusal{{ProblemCode::bad_value,
                   std::move(what),
                   {"", 0, std::move(field)},
                   std::move(expected),
                   std::move(found)}};
  }

 private:
  /// --at as RFC 3339, as "2026-11-25 07:30" or as "07:30" on the room's clock, the latest that has
  /// come; else now.
  Instant read_time() const {
    const std::string& text = options_.at;
    if (text.empty()) return face_.now;
    if (const auto instant = parse_instant(text)) return *instant;
    const Zone zone = zone_of(room_);
    if (const auto time = parse_time_of_day(text)) {
      const Date today = zone.date_of(face_.now);
      const Instant at = zone.at(today, *time);
      return at <= face_.now ? at : zone.at(today - 1, *time);
    }
    if (text.size() == 16 && (text[10] == ' ' || text[10] == 'T')) {
      const auto date = parse_date(text.substr(0, 10));
      const auto time = parse_time_of_day(text.substr(11));
      if (date && time) return zone.at(*date, *time);
    }
    refuse("--at", "not a time", "07:30, \"2026-11-25 07:30\" or RFC 3339 with an offset", text);
  }

  /// A time to come is a slip of the finger: the entry would not be seen until then.
  Instant not_in_the_future(Instant at) const {
    if (at > face_.now + Duration::minutes(5)) {
      refuse("--at", "a time that has not come yet", "now or earlier", options_.at);
    }
    return at;
  }

  const JotOptions& options_;
  const Room& room_;
  Face& face_;
  Instant at_;
};

// --- the forms: each fills the scribe's entries from the options ---

void weigh(const JotOptions& o, Scribe& s) {
  if (o.words.size() % 2 != 0) {
    s.refuse("", "an animal without its mass", "pairs, such as: juniper 812g rowan 640g",
             o.words.back());
  }
  for (std::size_t i = 0; i < o.words.size(); i += 2) {
    s.add(EntryKind::weighed, s.animal(o.words[i])).mass = s.quantity<Mass>(o.words[i + 1]);
  }
}

void meal(EntryKind kind, const JotOptions& o, Scribe& s) {
  for (const std::string& name : o.words) {
    Entry& entry = s.add(kind, s.animal(name));
    entry.item = o.food;
    if (o.count >= 0) entry.count = o.count;
    if (!o.mass.empty()) entry.mass = s.quantity<Mass>(o.mass);
    if (!o.jar.empty()) entry.target = s.thing(o.jar, {SubjectKind::jar});
    if (!o.to.empty()) entry.target = s.animal(o.to);
  }
}

/// One entry of a kind for each animal named.
void for_animals(EntryKind kind, const JotOptions& o, Scribe& s, const std::string& item = "") {
  for (const std::string& name : o.words) s.add(kind, s.animal(name)).item = item;
}

void for_enclosures(EntryKind kind, const JotOptions& o, Scribe& s) {
  for (const std::string& name : o.words) s.add(kind, s.enclosure(name));
}

/// "rack-a-1 warm side 31.2C 48%": the last words that are quantities are the values.
void reading(const JotOptions& o, Scribe& s) {
  Entry& entry = s.add(EntryKind::reading, s.enclosure(o.words.front()));
  std::size_t end = o.words.size();
  for (; end > 1; --end) {
    const std::string& value = o.words[end - 1];
    const auto once = [&](bool again) {
      if (again) {
        s.refuse("", "two values of one kind", "one temperature, one humidity or both", value);
      }
    };
    if (const auto t = parse<Temperature>(value)) {
      once(entry.temperature.has_value());
      entry.temperature = *t;
    } else if (const auto rh = parse<Percentage>(value)) {
      once(entry.humidity.has_value());
      entry.humidity = *rh;
    } else {
      break;
    }
  }
  for (std::size_t i = 1; i < end; ++i) {
    entry.item += (entry.item.empty() ? "" : " ") + o.words[i];
  }
  if (!entry.temperature && !entry.humidity) {
    s.refuse("", "a reading of nothing",
             "a temperature or humidity with its unit, such as 31.2C 48%", o.words.back());
  }
}

void moved(const JotOptions& o, Scribe& s) {
  const Subject home = s.enclosure(o.to);
  for (const std::string& name : o.words) s.add(EntryKind::moved, s.animal(name)).target = home;
}

void note(const JotOptions& o, Scribe& s) {
  if (o.words.size() < 2 && o.note.empty()) {
    s.refuse("", "a note without words", "what it is about, then the words", o.words.front());
  }
  const Subject about = s.thing(
      o.words.front(),
      {SubjectKind::animal, SubjectKind::enclosure, SubjectKind::room, SubjectKind::thermostat,
       SubjectKind::heater, SubjectKind::lamp, SubjectKind::instrument, SubjectKind::tool,
       SubjectKind::jar, SubjectKind::supply, SubjectKind::safety_device, SubjectKind::task});
  Entry& entry = s.add(EntryKind::note, about);
  std::string words;
  for (std::size_t i = 1; i < o.words.size(); ++i) words += (i == 1 ? "" : " ") + o.words[i];
  if (!words.empty()) entry.note = words + (entry.note.empty() ? "" : "; " + entry.note);
}

void disinfected(const JotOptions& o, Scribe& s) {
  for (const std::string& name : o.words) {
    Entry& entry =
        s.add(EntryKind::disinfected,
              s.thing(name, {SubjectKind::tool, SubjectKind::enclosure, SubjectKind::room}));
    entry.item = o.item;
    if (o.minutes >= 0) entry.count = o.minutes;
  }
}

void used(const JotOptions& o, Scribe& s) {
  const Subject with = s.thing(o.with_whom, {SubjectKind::animal, SubjectKind::enclosure});
  for (const std::string& name : o.words) {
    s.add(EntryKind::used, s.thing(name, {SubjectKind::tool})).target = with;
  }
}

/// One entry of a kind for each thing named.
void for_things(EntryKind kind, std::initializer_list<SubjectKind> kinds, const JotOptions& o,
                Scribe& s) {
  for (const std::string& name : o.words) s.add(kind, s.thing(name, kinds)).item = o.item;
}

void uv(const JotOptions& o, Scribe& s) {
  if (o.words.size() != 2) {
    s.refuse("", "not a lamp and its reading", "such as: basking-uv 2.4UVI", o.words.front());
  }
  s.add(EntryKind::uv_reading, s.thing(o.words[0], {SubjectKind::lamp})).uvi =
      s.quantity<UvIndex>(o.words[1]);
}

void measured(const JotOptions& o, Scribe& s) {
  if (o.words.size() != 2) {
    s.refuse("", "not an animal and its length", "such as: thistle 14.2cm", o.words.front());
  }
  Entry& entry = s.add(EntryKind::measured, s.animal(o.words[0]));
  entry.length = s.quantity<Length>(o.words[1]);
  entry.item = o.item;
}

void eggs(const JotOptions& o, Scribe& s) {
  for (const std::string& name : o.words) {
    Entry& entry = s.add(EntryKind::laid_eggs, s.animal(name));
    if (o.count >= 0) entry.count = o.count;
  }
}

// --- writing ---

/// The entry to be struck; its subject becomes the striking entry's.
void strike(const JotOptions& o, const book::Book& book, Scribe& s) {
  for (const std::string& text : o.words) {
    const auto id = parse_uuid(text);
    if (!id) throw Refusal{id.problem()};
    const auto struck = book.find_entry(*id);
    if (!struck) s.refuse("", "the notebook has no such entry", "an id that jot printed", text);
    s.add(EntryKind::struck, struck->subject).strikes = *id;
  }
}

/// Below a `disinfected` entry: until when it must stay wet, and what it covers or lacks.
std::string about_disinfection(const Entry& entry, const Room& room, Instant now) {
  const auto coverage = hygiene::coverage_of(entry.item, entry.count);
  std::string text;
  const Instant end = entry.at + Duration::minutes(entry.count.value_or(0));
  if (end > now) {
    const Zone zone = zone_of(room);
    const std::string wall = zone.wall_text(end);
    text += fmt::format("  Wet until {}, then rinse and dry.\n",
                        zone.date_of(end) == zone.date_of(now) ? wall.substr(11) : wall);
  }
  if (coverage.mixed) {
    text += "  Never mix these: the gas can kill. If you did, leave it, go out and let air in.\n";
  }
  if (const std::string why = coverage.counts_for_nothing(); !why.empty()) {
    return text + fmt::format(
                      "  It counts for nothing: {}. Better: --with \"bleach 0.1%\" "
                      "--minutes 10; see `warmside disinfectants`.\n",
                      why);
  }
  std::string covers;
  for (const auto organism : coverage.covers) {
    covers += fmt::format("{}{}", covers.empty() ? "" : ", ", word(organism));
  }
  return text + fmt::format("  On a clean surface it covers {}.\n", covers);
}

using Form = std::function<void(const JotOptions&, const book::Book&, Scribe&)>;

void write_entries(const JotOptions& options, const Form& form, Face& face) {
  auto opened = book::Book::open(options.book.path);
  if (!opened) return face.refuse(opened.problem());
  book::Book book = std::move(opened).value();
  const Room room = book.room();
  try {
    Scribe scribe(options, room, face);
    form(options, book, scribe);
    if (!options.id.empty()) {
      const auto id = parse_uuid(options.id);
      if (!id) throw Refusal{id.problem()};
      if (scribe.entries.size() != 1) {
        scribe.refuse("--id", "one id for several entries", "one entry at a time", options.id);
      }
      scribe.entries.front().id = *id;
    }
    Problems problems;
    auto change = book.change();
    for (const Entry& entry : scribe.entries) {
      const auto stored = change.append(entry);
      if (!stored)
        problems.insert(problems.end(), stored.problem().begin(), stored.problem().end());
    }
    if (!problems.empty()) return face.refuse(problems);
    change.commit();
    if (options.json) {
      std::string ids;
      for (const Entry& entry : scribe.entries) {
        ids += fmt::format("{}\"{}\"", ids.empty() ? "" : ", ", to_text(entry.id));
      }
      face.out << fmt::format("{{\"ids\": [{}]}}\n", ids);
      return;
    }
    for (const Entry& entry : scribe.entries) {
      face.out << fmt::format("{}  {}: {}\n", to_text(entry.id), entry.subject.id,
                              room::describe_entry(entry, room.info.units));
      if (entry.kind == EntryKind::disinfected) {
        face.out << about_disinfection(entry, room, face.now);
      }
    }
  } catch (const Refusal& refusal) {
    face.refuse(refusal.problem);
  }
}

}  // namespace

void add_jot_command(CLI::App& program, Face& face) {
  auto* jot = program.add_subcommand(
      "jot", "write into the notebook; prints each entry's id once it is on the disk");
  auto options = std::make_shared<JotOptions>();
  options->book.add_to(*jot);
  jot->add_option("--at", options->at, "when: 07:30, \"2026-11-25 07:30\" or RFC 3339; else now")
      ->type_name("TIME");
  jot->add_option("--by", options->by, "who: the id of a keeper")->type_name("KEEPER");
  jot->add_option("--id", options->id, "the entry's id, so that sending it twice stores it once")
      ->type_name("UUID");
  jot->add_option("--note", options->note, "words to go with it")->type_name("TEXT");
  add_json_option(*jot, options->json);
  jot->require_subcommand(1);
  jot->fallthrough();
  jot->footer(
      "Examples:\n"
      "  warmside jot weigh juniper 812g rowan 640g\n"
      "  warmside jot fed juniper rowan --food \"adult mouse\" --count 1\n"
      "  warmside jot refused juniper --food \"adult mouse\" --note \"in shed soon?\"\n"
      "  warmside jot reading rack-a-1 warm side 31.2C 48%\n"
      "  warmside jot cleaned rack-a-1 rack-a-2 --at 07:30\n"
      "  warmside jot strike 0192f0c1-2b3c-7def-8123-456789abcdef --note \"wrong animal\"");

  const auto form = [&](const char* name, const char* what, const char* words,
                        auto run) -> CLI::App* {
    auto* command = jot->add_subcommand(name, what);
    command->fallthrough();
    command->footer("Also: --book, --at, --by, --id, --note, --json, as in `warmside jot --help`");
    command->add_option(words, options->words)->required();
    command->callback([options, run, &face] {
      write_entries(
          *options,
          [&run](const JotOptions& o, const book::Book& book, Scribe& s) {
            if constexpr (std::is_invocable_v<decltype(run), const JotOptions&, const book::Book&,
                                              Scribe&>) {
              run(o, book, s);
            } else {
              run(o, s);
            }
          },
          face);
    });
    return command;
  };
  const auto animals = [&](const char* name, const char* what, EntryKind kind) {
    return form(name, what, "ANIMAL",
                [kind](const JotOptions& o, Scribe& s) { for_animals(kind, o, s, o.item); });
  };

  form("weigh", "a weighing: animal and mass, or several such pairs", "ANIMAL MASS", weigh);
  struct Food {
    const char* name;
    const char* what;
    EntryKind kind;
  };
  for (const Food& food : {Food{"fed", "a meal that was eaten", EntryKind::fed},
                           Food{"refused", "a meal that was refused", EntryKind::refused},
                           Food{"leftovers", "what a meal left lying", EntryKind::leftovers}}) {
    const EntryKind kind = food.kind;
    auto* command = form(food.name, food.what, "ANIMAL",
                         [kind](const JotOptions& o, Scribe& s) { meal(kind, o, s); });
    command->add_option("--food", options->food, "what it was")->type_name("TEXT");
    command->add_option("--count", options->count, "how many")
        ->check(CLI::Range(0, 100'000))
        ->type_name("N");
    command->add_option("--mass", options->mass, "how heavy in all")->type_name("MASS");
    if (kind == EntryKind::leftovers) {
      command->add_option("--given-to", options->to, "the animal that got them")
          ->type_name("ANIMAL");
      continue;
    }
    command->add_option("--jar", options->jar, "dusted from this jar")->type_name("JAR");
  }
  animals("regurgitated", "a meal that came up again", EntryKind::regurgitated);
  animals("in-shed", "opaque or about to shed", EntryKind::in_shed);
  form("shed", "a shed that is done", "ANIMAL", [](const JotOptions& o, Scribe& s) {
    for_animals(EntryKind::shed, o, s, o.stuck ? "stuck" : "complete");
  })->add_flag("--stuck", options->stuck, "some of it stayed on");
  animals("droppings", "droppings", EntryKind::droppings)
      ->add_option("--look", options->item, "how they were")
      ->type_name("TEXT");
  form("watered", "fresh water", "ENCLOSURE",
       [](const JotOptions& o, Scribe& s) { for_enclosures(EntryKind::watered, o, s); });
  form("cleaned", "a spot clean, or a full one", "ENCLOSURE", [](const JotOptions& o, Scribe& s) {
    for_enclosures(o.full ? EntryKind::full_cleaned : EntryKind::spot_cleaned, o, s);
  })->add_flag("--full", options->full, "a full clean");
  form("misted", "misted", "ENCLOSURE",
       [](const JotOptions& o, Scribe& s) { for_enclosures(EntryKind::misted, o, s); });
  form("reading", "temperature and humidity: enclosure, place, values", "ENCLOSURE PLACE VALUE",
       reading);
  form("uv", "a UV index under a lamp", "LAMP UVI", uv);
  form("measured", "a length: animal and length", "ANIMAL LENGTH", measured)
      ->add_option("--what", options->item, "which length, such as shell or snout-vent")
      ->type_name("TEXT");
  form("eggs", "laid eggs or gave birth", "ANIMAL", eggs)
      ->add_option("--count", options->count, "how many")
      ->check(CLI::Range(0, 100'000))
      ->type_name("N");
  form("moved", "moved to another enclosure", "ANIMAL", moved)
      ->add_option("--to", options->to, "the enclosure")
      ->required()
      ->type_name("ENCLOSURE");
  for (const bool quarantine : {true, false}) {
    const EntryKind begin =
        quarantine ? EntryKind::quarantine_started : EntryKind::brumation_started;
    const EntryKind end = quarantine ? EntryKind::quarantine_ended : EntryKind::brumation_ended;
    form(quarantine ? "quarantine" : "brumation",
         quarantine ? "quarantine begins, or is signed off" : "brumation begins or ends", "ANIMAL",
         [begin, end](const JotOptions& o, Scribe& s) { for_animals(o.ended ? end : begin, o, s); })
        ->add_flag("--ended", options->ended, "it ends");
  }
  animals("ill", "looks ill", EntryKind::ill)
      ->add_option("--look", options->item, "what was seen")
      ->type_name("TEXT");
  animals("recovered", "well again", EntryKind::recovered);
  auto* checked = form(
      "checked", "a check, a sample taken, or a laboratory's answer", "THING",
      [](const JotOptions& o, Scribe& s) {
        const auto outcome = from_word<room::Outcome>(o.outcome);
        for (const std::string& name : o.words) {
          Subject about = name == "room" ? s.thing(name, {SubjectKind::animal, SubjectKind::room})
                                         : s.animal(name);
          s.add(EntryKind::checked, std::move(about)).item =
              outcome ? room::checked_item(o.item, *outcome) : o.item;
        }
      });
  checked
      ->add_option("--what", options->item, "shed, mites, faecal sample, ...; of the room: cords")
      ->required()
      ->type_name("TEXT");
  checked->add_option("--result", options->outcome, "negative: not found; positive: found")
      ->check(CLI::IsMember({"negative", "positive"}))
      ->type_name("RESULT");
  form("tested", "a thermostat or alarm was tested", "THING",
       [](const JotOptions& o, Scribe& s) {
         for_things(EntryKind::tested,
                    {SubjectKind::thermostat, SubjectKind::safety_device, SubjectKind::instrument,
                     SubjectKind::heater},
                    o, s);
       })
      ->add_option("--result", options->item, "how it went")
      ->type_name("TEXT");
  form("opened", "a new jar was opened", "JAR", [](const JotOptions& o, Scribe& s) {
    for_things(EntryKind::opened, {SubjectKind::jar}, o, s);
  });
  form("replaced", "replaced by a new one", "THING", [](const JotOptions& o, Scribe& s) {
    for_things(EntryKind::replaced,
               {SubjectKind::lamp, SubjectKind::heater, SubjectKind::thermostat,
                SubjectKind::instrument, SubjectKind::safety_device, SubjectKind::jar},
               o, s);
  });
  form("done", "a task of your own is done", "TASK", [](const JotOptions& o, Scribe& s) {
    for_things(EntryKind::done, {SubjectKind::task}, o, s);
  });
  form("used", "a tool touched an animal or enclosure", "TOOL", used)
      ->add_option("--with", options->with_whom, "the animal or enclosure")
      ->required()
      ->type_name("THING");
  auto* clean = form("disinfected", "a tool or enclosure was disinfected", "THING", disinfected);
  clean->add_option("--with", options->item, "the disinfectant and its strength")
      ->type_name("TEXT");
  clean->add_option("--minutes", options->minutes, "how long it stays wet")
      ->check(CLI::Range(0, 100'000))
      ->type_name("N");
  form("note", "words about anything", "THING WORDS", note);
  form("strike", "strike out an entry: it does not hold", "ENTRY", strike);
}

}  // namespace warmside::cli
