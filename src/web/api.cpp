#include "web/api.h"

#include <algorithm>

#include "web/compression.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

/// As many as a small machine has cores; a solver of its own may take one for seconds.
constexpr std::size_t kSlowThreads = 2;
constexpr std::size_t kMostWaiting = 128;

/// Runs a step and answers with it; what it throws is a failure of the machine.
template <class Step>
void respond_with(const Respond& respond, Step step) {
  Response response;
  try {
    response = step();
  } catch (const std::exception& e) {
    response = machine_failed(e.what());
  }
  respond(std::move(response));
}

void busy(const Respond& respond) {
  respond(machine_failed("too much to compute at once"));
}

}  // namespace

Api::Api(ApiOptions options, LiveBook& book, People& people, std::function<Instant()> now)
    : options_(std::move(options)),
      sheets_(book),
      slow_(kSlowThreads, kMostWaiting),
      desk_(book, sheets_, people, std::move(now), options_.version, options_.open_without_people) {
}

void Api::stop() {
  slow_.stop();
  sheets_.stop();
}

void Api::prepare() {
  // Dropped when the lane is full: whoever asks for the round has it computed.
  static_cast<void>(slow_.run([this] {
    try {
      sheets_.refresh(desk_.today());
    } catch (const std::exception&) {
      // Whoever asks next is told.
    }
  }));
}

void Api::answer(Request request, Respond respond) {
  respond = [respond = std::move(respond), accepted = request.accept_encoding](Response response) {
    choose_form(response, accepted);
    respond(std::move(response));
  };
  if (auto no = turned_away(request, options_.names)) return respond(std::move(*no));
  auto target = parse_target(request.target);
  if (!target) {
    return respond(cannot_be_read({{ProblemCode::bad_syntax,
                                    "not a path",
                                    {},
                                    "a path as in docs/openapi.json",
                                    shown(request.target)}}));
  }
  if (!target->path.starts_with("/api/")) {
    if (options_.trust != nullptr) {
      if (auto page = trust_answer(*options_.trust, request, target->path)) {
        return respond(std::move(*page));
      }
    }
    return respond(asset_answer(request, target->path, options_.web_dir));
  }
  Call call;
  bool path_known = false;
  for (const Operation& operation : all_operations()) {
    auto path = fit(operation.path, target->path);
    if (!path) continue;
    path_known = true;
    // HEAD is GET without its content, which the server leaves out; a stream has no end to measure.
    const bool head = request.method == "HEAD" && operation.id != "events";
    if (operation.method != request.method && !(head && operation.method == "GET")) continue;
    call.operation = &operation;
    call.path = std::move(*path);
    break;
  }
  if (call.operation == nullptr) {
    return respond(path_known ? problem_answer(405, "Not that way.") : no_such_thing());
  }
  call.query = std::move(target->query);
  call.token = session_token(request);
  call.who = desk_.visitor(call.token);
  call.request = std::move(request);
  if (call.operation->roles != kAnyone) {
    if (!call.who) return respond(problem_answer(401, "Sign in first."));
    if ((call.operation->roles & role_bit(call.who->role)) == 0) {
      return respond(problem_answer(403, "Not for this role, or sent from another site."));
    }
  }
  begin(std::move(call), std::move(respond));
}

void Api::begin(Call call, Respond respond) {
  const auto& answer = call.operation->answer;
  if (const auto* quick = std::get_if<Quick>(&answer)) {
    respond_with(respond, [&] { return (*quick)(desk_, call); });
  } else if (const auto* slow = std::get_if<Slow>(&answer)) {
    const auto job = [this, slow, call = std::move(call), respond] {
      respond_with(respond, [&] { return slow->answer(desk_, call); });
    };
    if (!slow_.run(job)) busy(respond);
  } else if (const auto* of_today = std::get_if<OfToday>(&answer)) {
    const Date today = desk_.today();
    sheets_.get(today, [this, of_today, call = std::move(call), respond](
                           const DaySheetPointer& sheet, const std::string& failure) {
      if (!sheet) return respond(machine_failed(failure));
      const auto job = [this, of_today, call, respond, sheet] {
        respond_with(respond, [&] { return of_today->answer(desk_, call, *sheet); });
      };
      if (!slow_.run(job)) busy(respond);
    });
  } else {
    std::get<Later>(answer).begin(desk_, std::move(call), std::move(respond));
  }
}

}  // namespace warmside::web
