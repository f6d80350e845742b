// Operations: animal, weights, enclosure, maps, trace, rota, species_list, species.

#include "hygiene/exposure.h"
#include "report/enclosure_maps.h"
#include "report/record_pages.h"
#include "report/rota_report.h"
#include "report/trace_report.h"
#include "report/weights_report.h"
#include "round/feeding.h"
#include "web/book_pages.h"
#include "web/operations.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

Response with_text(std::string json) {
  Response response;
  response.body = std::move(json);
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

/// The record with the id of the path and what page(record) makes of it.
template <class Record, class Page>
Response page_of(const std::vector<Record>& records, const Call& call, Page page) {
  const auto* record = room::find(records, decltype(Record::id)::trusted(call.path.at("id")));
  if (record == nullptr) return no_such_thing();
  return with_text(page(*record));
}

Problem in_query(Problem problem, const char* name) {
  problem.where.field = name;
  return problem;
}

Problem missing_in_query(const char* name, std::string expected) {
  return {ProblemCode::missing, "must be given", {"", 0, name}, std::move(expected), ""};
}

}  // namespace

Response answer_animal(Desk& desk, const Call& call, const DaySheet& sheet) {
  return page_of(sheet.room.animals, call, [&](const room::Animal& animal) {
    return desk.book.read([&](const book::Book& book) {
      return report::animal_as_json(
          animal, page_input(book, sheet.day, sheet.round, room::subject_of(animal)));
    });
  });
}

Response answer_weights(Desk&, const Call& call, const DaySheet& sheet) {
  return page_of(sheet.room.animals, call, [&](const room::Animal& animal) {
    return report::weights_as_json(animal, sheet.day);
  });
}

Response answer_enclosure(Desk& desk, const Call& call, const DaySheet& sheet) {
  return page_of(sheet.room.enclosures, call, [&](const room::Enclosure& enclosure) {
    return desk.book.read([&](const book::Book& book) {
      return report::enclosure_as_json(
          enclosure, page_input(book, sheet.day, sheet.round, room::subject_of(enclosure)));
    });
  });
}

Response answer_maps(Desk&, const Call& call, const DaySheet& sheet) {
  return page_of(sheet.room.enclosures, call, [&](const room::Enclosure& enclosure) {
    return report::enclosure_maps_as_json(sheet.day, enclosure);
  });
}

Response answer_trace(Desk& desk, const Call& call) {
  hygiene::TraceQuestion question;
  Problems problems;
  const auto text = [&](const char* name, const char* expected) -> std::string {
    const auto at = call.query.find(name);
    if (at != call.query.end()) return at->second;
    problems.push_back(missing_in_query(name, expected));
    return "";
  };
  question.animal = text("animal", "an animal's id");
  const std::string at_text = text("at", "RFC 3339 with an offset");
  const std::string direction = text("direction", "ahead or back");
  if (problems.empty()) {
    if (!is_id_text(question.animal)) {
      problems.push_back(in_query(bad_id_text(question.animal), "animal"));
    }
    if (const auto at = parse_instant(at_text)) {
      question.at = *at;
    } else {
      problems.push_back(in_query(at.problem(), "at"));
    }
    if (direction != "ahead" && direction != "back") {
      problems.push_back({ProblemCode::bad_value,
                          "no such direction",
                          {"", 0, "direction"},
                          "ahead or back",
                          shown(direction)});
    }
  }
  if (!problems.empty()) return cannot_be_read(problems);
  question.direction = direction == "back" ? hygiene::Direction::back : hygiene::Direction::ahead;
  const auto room = desk.room();
  if (room::find(room->animals, room::AnimalId::trusted(question.animal)) == nullptr) {
    return no_such_thing();
  }
  std::vector<room::Entry> entries;
  desk.book.read([&](const book::Book& book) {
    book.each_entry([&](const room::Entry& entry) {
      entries.push_back(entry);
      return true;
    });
  });
  room::drop_struck(entries);
  const Zone zone = room::zone_of(*room);
  const auto traced = hygiene::trace(entries, hygiene::contact_room(*room, zone), zone, question);
  if (!traced) return no_such_thing();
  return with_text(report::trace_as_json(*traced, question));
}

Response answer_rota(Desk&, const Call& call, const DaySheet& sheet) {
  const auto asked = call.query.find("days");
  if (asked != call.query.end() && asked->second != std::to_string(diet::kDaysOfRota)) {
    return cannot_be_read({{ProblemCode::bad_value,
                            "no rota is of so many days",
                            {"", 0, "days"},
                            std::to_string(diet::kDaysOfRota),
                            shown(asked->second)}});
  }
  const diet::Pantry pantry(sheet.room);
  const diet::RoomRota rota = diet::room_rota(sheet.day, pantry, round::diners_of(sheet.day));
  return with_text(report::rota_as_json(rota.problem, diet::solve_rota(rota.problem),
                                        report::rota_of_room(rota, sheet.room)));
}

Response answer_species_list(Desk&, const Call&) {
  return with_text(report::species_list_as_json(""));
}

Response answer_species(Desk& desk, const Call& call) {
  const auto room = desk.room();
  species::Profile own;
  const auto* profile =
      room::find_species(*room, species::SpeciesId::trusted(call.path.at("id")), own);
  if (profile == nullptr) return no_such_thing();
  return with_text(report::species_as_json(*profile));
}

}  // namespace warmside::web
