// Operations: write_entries, read_entries.

#include <algorithm>
#include <charconv>
#include <sstream>

#include "book/notebook_file.h"
#include "core/letters.h"
#include "web/json_internal.h"
#include "web/operations.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

constexpr std::size_t kMostEntries = 200;
constexpr int kUsualPage = 50, kLargestPage = 200;
constexpr std::size_t kLongestWords = 120;

/// Reads an entry as a line of the notebook file holds it.
Checked<room::Entry> entry_from(const Json& json) {
  // Not fit for the notebook at all, or so odd that no line could hold it.
  std::istringstream line(text_of(json));
  std::optional<room::Entry> entry;
  Problems problems;
  book::read_notebook_lines(
      line, "",
      [&](const room::Entry& read, const Where&) {
        entry = read;
        return true;
      },
      [&](Problem problem) {
        problem.where.line = 0;  // it has no lines
        problems.push_back(std::move(problem));
        return true;
      });
  if (!problems.empty()) return problems;
  return *entry;
}

/// The id as it was sent, if it can be read.
std::string id_as_sent(const Json& json) {
  if (!json.is_object()) return "";
  const auto at = json.find("id");
  if (at == json.end() || !at->is_string()) return "";
  const auto id = parse_uuid(at->get<std::string>());
  return id ? to_text(*id) : "";
}

/// What becomes of one entry of a request.
struct Sent {
  std::string id;
  Problems problems;      // why it was refused
  bool readable = false;  // and allowed
};

/// What the round asks for (TaskKind), what goes with a meal, and words.
constexpr room::EntryKind kOfTheRound[] = {
    room::EntryKind::fed,        room::EntryKind::refused,      room::EntryKind::leftovers,
    room::EntryKind::weighed,    room::EntryKind::watered,      room::EntryKind::misted,
    room::EntryKind::uv_reading, room::EntryKind::spot_cleaned, room::EntryKind::full_cleaned,
    room::EntryKind::shed,       room::EntryKind::checked,      room::EntryKind::tested,
    room::EntryKind::replaced,   room::EntryKind::done,         room::EntryKind::note};
/// A sitter takes back what was ticked so long ago at most: today's round and yesterday's. By this
/// machine's clock: an entry may claim any time. Common practice, no source.
constexpr std::int64_t kTakenBack_ms = 48LL * 3600 * 1000;

/// Why a sitter may not write this entry; null: may. `find`: the entry with an id, of the book or
/// of the same request.
template <class Find>
std::optional<Problem> not_for_a_sitter(const room::Entry& entry, Instant now, const Find& find) {
  const auto of_the_round = [](const room::Entry& one) {
    return std::find(std::begin(kOfTheRound), std::end(kOfTheRound), one.kind) !=
           std::end(kOfTheRound);
  };
  const auto refused = [](const char* field, const char* what, const char* expected) {
    return Problem{ProblemCode::bad_value, what, {"", 0, field}, expected, ""};
  };
  if (of_the_round(entry)) return std::nullopt;
  if (entry.kind != room::EntryKind::struck) {
    return refused("kind", "not for a sitter", "what the round asks for, or a note");
  }
  const auto struck = find(*entry.strikes);
  if (!struck || !of_the_round(*struck) || now.unix_ms() - struck->at.unix_ms() > kTakenBack_ms) {
    return refused("strikes", "not for a sitter", "an entry of the round, of the last two days");
  }
  return std::nullopt;
}

Json result_json(const Sent& sent, const char* outcome) {
  Json problems = Json::array();
  for (const Problem& problem : sent.problems) problems.push_back(json_of(problem));
  return {{"id", sent.id}, {"outcome", outcome}, {"problems", std::move(problems)}};
}

Response results(std::vector<Sent> all, Written written) {
  if (!written.failure.empty()) return machine_failed(written.failure);
  Json list = Json::array();
  std::size_t next = 0;
  for (Sent& sent : all) {
    const char* outcome = "refused";
    if (sent.readable) {
      auto& stored = written.each[next++];
      if (stored) {
        outcome = *stored == book::Stored::now ? "stored" : "before";
      } else {
        sent.problems = std::move(stored).problem();
      }
    }
    list.push_back(result_json(sent, outcome));
  }
  Response response;
  response.body = text_of(Json{{"results", std::move(list)}, {"change", written.change}});
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace

void write_entries(Desk& desk, Call call, Respond respond) {
  const auto json = parse_object(call.request.body);
  if (!json) return respond(cannot_be_read({json.problem()}));
  Problems problems;
  FieldReader fields(*json, "", problems);
  const Json* list = fields.list("entries", 1, kMostEntries);
  fields.refuse_others();
  if (!problems.empty()) return respond(cannot_be_read(problems));
  std::vector<Sent> all;
  std::vector<room::Entry> entries;
  const auto find = [&](const Uuid& id) -> std::optional<room::Entry> {
    for (const room::Entry& entry : entries) {
      if (entry.id == id) return entry;
    }
    return desk.book.read([&](const book::Book& book) { return book.find_entry(id); });
  };
  for (const Json& one : *list) {
    Sent sent{id_as_sent(one), {}, false};
    if (auto entry = entry_from(one); !entry) {
      sent.problems = std::move(entry).problem();
    } else if (auto no = call.who->role == Role::sitter ? not_for_a_sitter(*entry, desk.now(), find)
                                                        : std::optional<Problem>()) {
      sent.problems.push_back(*std::move(no));
    } else {
      sent.readable = true;
      entries.push_back(*std::move(entry));
    }
    all.push_back(std::move(sent));
  }
  desk.book.write(std::move(entries), [all = std::move(all), respond](Written written) mutable {
    respond(results(std::move(all), std::move(written)));
  });
}

// --- Reading ------------------------------------------------------------------------------------

namespace {

/// What of the notebook is asked for.
struct Question {
  std::optional<room::SubjectKind> subject_kind;
  std::optional<room::Subject> subject;
  std::optional<room::EntryKind> kind;
  std::string words;  // in small letters
  std::optional<std::int64_t> before;
  int limit = kUsualPage;
};

class QueryReader {
 public:
  explicit QueryReader(const Parameters& query) : query_(query) {}

  const std::string* find(const char* name) const {
    const auto at = query_.find(name);
    return at == query_.end() ? nullptr : &at->second;
  }
  void refuse(const char* name, std::string what, std::string expected) {
    problems.push_back({ProblemCode::bad_value,
                        std::move(what),
                        {"", 0, name},
                        std::move(expected),
                        shown(*find(name))});
  }
  template <class Word>
  std::optional<Word> word(const char* name) {
    const std::string* text = find(name);
    if (text == nullptr) return std::nullopt;
    const auto value = from_word<Word>(*text);
    if (!value) refuse(name, "unknown word", words_listed<Word>());
    return value;
  }
  std::optional<std::int64_t> whole(const char* name, std::int64_t least, std::int64_t most) {
    const std::string* text = find(name);
    if (text == nullptr) return std::nullopt;
    std::int64_t n = 0;
    const char* const past = text->data() + text->size();
    const auto [end, error] = std::from_chars(text->data(), past, n);
    if (error != std::errc{} || end != past || n < least || n > most) {
      refuse(name, "not such a number", std::to_string(least) + " to " + std::to_string(most));
      return std::nullopt;
    }
    return n;
  }

  Problems problems;

 private:
  const Parameters& query_;
};

Checked<Question> question_of(const Parameters& query) {
  QueryReader reader(query);
  Question question;
  question.subject_kind = reader.word<room::SubjectKind>("subject_kind");
  question.kind = reader.word<room::EntryKind>("kind");
  question.before = reader.whole("before", 1, std::numeric_limits<std::int64_t>::max());
  question.limit = static_cast<int>(reader.whole("limit", 1, kLargestPage).value_or(kUsualPage));
  if (const std::string* text = reader.find("text")) {
    if (text->size() > kLongestWords) reader.refuse("text", "too long", "at most 120 bytes");
    question.words = lower(*text);
  }
  if (const std::string* id = reader.find("subject")) {
    if (!is_id_text(*id)) {
      reader.problems.push_back(bad_id_text(*id));
      reader.problems.back().where.field = "subject";
    } else if (!reader.find("subject_kind")) {
      reader.refuse("subject", "of which kind is not said", "subject_kind with it");
    } else if (question.subject_kind) {
      question.subject = room::Subject{*question.subject_kind, *id};
    }
  }
  if (!reader.problems.empty()) return reader.problems;
  return question;
}

/// What people call a thing of the room; its id where it has no name.
std::string name_of(const room::Room& room, const room::Subject& subject) {
  if (subject.kind == room::SubjectKind::room) return room.info.name;
  std::string name = subject.id;
  room::Room::for_each_kind(room, [&](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    if constexpr (requires(const Record& record) { record.name; }) {
      if (Record::kWord != word(subject.kind)) return;
      const auto* found = room::find(records, decltype(Record::id)::trusted(subject.id));
      if (found != nullptr) name = room::called(*found);
    }
  });
  return name;
}

}  // namespace

Response read_entries(Desk& desk, const Call& call) {
  const auto question = question_of(call.query);
  if (!question) return cannot_be_read(question.problem());
  const auto room = desk.room();
  Json list = Json::array();
  Json more = nullptr;
  desk.book.read([&](const book::Book& book) {
    std::int64_t last = 0;
    const auto visit = [&](const room::Entry& entry, std::int64_t number, bool struck) {
      if (question->subject_kind && entry.subject.kind != *question->subject_kind) return true;
      if (question->kind && entry.kind != *question->kind) return true;
      const std::string text = room::describe_entry(entry, room->info.units);
      if (!question->words.empty() && lower(text).find(question->words) == std::string::npos &&
          lower(entry.note).find(question->words) == std::string::npos) {
        return true;
      }
      if (static_cast<int>(list.size()) == question->limit) {
        more = std::to_string(last);  // there is at least this one
        return false;
      }
      last = number;
      list.push_back({{"id", to_text(entry.id)},
                      {"at", to_text(entry.at)},
                      {"kind", word(entry.kind)},
                      {"subject_kind", word(entry.subject.kind)},
                      {"subject", entry.subject.id},
                      {"subject_name", name_of(*room, entry.subject)},
                      {"text", text},
                      {"by", entry.by.text()},
                      {"note", entry.note},
                      {"struck", struck},
                      {"strikes", entry.strikes ? Json(to_text(*entry.strikes)) : Json(nullptr)}});
      return true;
    };
    book.each_entry_back(question->subject, question->before, visit);
  });
  Response response;
  response.body = text_of(Json{{"entries", std::move(list)}, {"more", std::move(more)}});
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace warmside::web
