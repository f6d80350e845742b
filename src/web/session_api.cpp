// Operations: session, sign_in, sign_out, people, put_person, remove_person.

#include <fmt/format.h>

#include "web/gate.h"
#include "web/json_internal.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

constexpr int kCookieAge_s = 30 * 24 * 3600;  // as long as the session

std::string cookie(const Request& request, const std::string& token, int age_s) {
  return fmt::format("{}={}; Path=/; Max-Age={}; HttpOnly; SameSite=Strict{}",
                     session_cookie(request.over_tls), token, age_s,
                     request.over_tls ? "; Secure" : "");
}

Response not_stored(Response response) {
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

Response session_of(Desk& desk, const std::optional<Visitor>& who) {
  const auto room = desk.room();
  Json json{{"signed_in", who.has_value()},
            {"name", who ? who->name : ""},
            {"role", who ? Json(word(who->role)) : Json(nullptr)},
            {"room", who ? room->info.name : ""},
            {"units", word(room->info.units)},
            {"zone", who ? room->info.zone : ""},
            {"today", to_text(desk.today())},
            {"version", desk.version},
            {"change", desk.book.change()}};
  Response response;
  response.body = text_of(json);
  return not_stored(std::move(response));
}

Json json_of(const Person& person) {
  return {{"name", person.name}, {"role", word(person.role)}};
}

Response nothing_more() {
  Response response;
  response.status = 204;
  return response;
}

}  // namespace

Response answer_session(Desk& desk, const Call& call) {
  return session_of(desk, call.who);
}

Response sign_in(Desk& desk, const Call& call) {
  const auto json = parse_object(call.request.body);
  if (!json) return cannot_be_read({json.problem()});
  Problems problems;
  FieldReader fields(*json, "", problems);
  const std::string name = fields.text("name", 1, kMostNameBytes);
  const std::string passphrase = fields.text("passphrase", 1, kMostPassphraseBytes);
  fields.refuse_others();
  if (!problems.empty()) return cannot_be_read(problems);
  const std::string& address = call.request.peer;
  if (const int wait = desk.patience.wait_s(name, address, desk.now()); wait > 0) {
    return too_many("too many tries with a wrong name or passphrase", wait);
  }
  const auto token = desk.people.sign_in(name, passphrase, desk.now());
  if (!token) {
    desk.patience.failed(name, address, desk.now());
    return problem_answer(401, "Sign in first.",
                          {{ProblemCode::bad_value,
                            "name and passphrase do not belong together",
                            {},
                            "both as the owner made them",
                            ""}});
  }
  desk.patience.succeeded(name, address);
  Response response = session_of(desk, desk.visitor(*token));
  response.headers.emplace_back("Set-Cookie", cookie(call.request, *token, kCookieAge_s));
  return response;
}

Response sign_out(Desk& desk, const Call& call) {
  desk.people.sign_out(call.token);
  Response response = not_stored(nothing_more());
  response.headers.emplace_back("Set-Cookie", cookie(call.request, "", 0));
  return response;
}

Response answer_people(Desk& desk, const Call&) {
  Json people = Json::array();
  for (const Person& person : desk.people.all()) people.push_back(json_of(person));
  Response response;
  response.body = text_of(Json{{"people", std::move(people)}});
  return not_stored(std::move(response));
}

Response put_person(Desk& desk, const Call& call) {
  const auto json = parse_object(call.request.body);
  if (!json) return cannot_be_read({json.problem()});
  Problems problems;
  FieldReader fields(*json, "", problems);
  const std::string role_word = fields.text("role", 1, 16);
  const std::string passphrase = fields.text("passphrase", 0, kMostPassphraseBytes);
  fields.refuse_others();
  const auto role = from_word<Role>(role_word);
  if (!role && problems.empty()) {
    problems.push_back(
        {ProblemCode::bad_value, "no such role", {"", 0, "role"}, words_listed<Role>(), ""});
  }
  if (!problems.empty()) return cannot_be_read(problems);
  const Person person{call.path.at("name"), *role};
  problems = desk.people.put(person, passphrase);
  if (!problems.empty()) {
    return problems.front().code == ProblemCode::conflict
               ? not_fitting(problems)
               : problem_answer(422, "The data is bad.", problems);
  }
  Response response;
  response.body = text_of(json_of(person));
  return not_stored(std::move(response));
}

Response remove_person(Desk& desk, const Call& call) {
  const Problems problems = desk.people.remove(call.path.at("name"));
  if (problems.empty()) return nothing_more();
  return problems.front().code == ProblemCode::conflict ? not_fitting(problems) : no_such_thing();
}

}  // namespace warmside::web
