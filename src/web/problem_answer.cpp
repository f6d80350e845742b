#include "web/problem_answer.h"

#include "web/json_internal.h"

namespace warmside::web {

Response problem_answer(unsigned status, const std::string& title, const Problems& problems) {
  Json list = Json::array();
  for (const Problem& problem : problems) list.push_back(json_of(problem));
  const Json answer{
      {"type", "about:blank"}, {"title", title}, {"status", status}, {"problems", std::move(list)}};
  Response response;
  response.status = status;
  response.type = "application/problem+json";
  response.body = text_of(answer);
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

Response cannot_be_read(const Problems& problems) {
  return problem_answer(400, "What was sent cannot be read.", problems);
}

Response no_such_thing() {
  return problem_answer(404, "There is no such thing.");
}

Response not_fitting(const Problems& problems) {
  return problem_answer(409, "It does not fit what is there.", problems);
}

Response machine_failed(const std::string& what) {
  return problem_answer(
      503, "Busy or the machine failed; nothing was stored that was not acknowledged.",
      {{ProblemCode::busy, what, {}, "try again; if it goes on, look at the machine", ""}});
}

Response too_many(const std::string& what, int seconds) {
  Response response = problem_answer(
      429, "Too many tries; wait.",
      {{ProblemCode::busy, what, {}, "another try in " + std::to_string(seconds) + " s", ""}});
  response.headers.emplace_back("Retry-After", std::to_string(seconds));
  return response;
}

}  // namespace warmside::web
