#pragma once
// An answer of no, as application/problem+json (RFC 9457, with the list `problems` of
// docs/openapi.json).

#include <string>

#include "core/problem.h"
#include "web/http_server.h"

namespace warmside::web {

/// title: in a few words, as docs/openapi.json puts it.
Response problem_answer(unsigned status, const std::string& title, const Problems& problems = {});

/// 400 with one problem.
Response cannot_be_read(const Problems& problems);
/// 404.
Response no_such_thing();
/// 503: busy, or the machine failed.
Response machine_failed(const std::string& what);
/// 409: readable, but it cannot stand beside what is there.
Response not_fitting(const Problems& problems);
/// 429, with the seconds to wait.
Response too_many(const std::string& what, int seconds);

}  // namespace warmside::web
