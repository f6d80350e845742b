#pragma once
// The server's answers: the API of docs/openapi.json below /api, the app's files elsewhere. Hands a
// request to its operation (operations.h) after asking at the gate (gate.h) and who it is.

#include <functional>
#include <string>

#include "web/assets.h"
#include "web/gate.h"
#include "web/lane.h"
#include "web/operations.h"
#include "web/trust.h"

namespace warmside::web {

struct ApiOptions {
  OwnNames names;                   // that requests may be sent to
  bool open_without_people = true;  // on loopback alone
  std::string version;
  std::string web_dir;  // the app's files from here, not the built-in ones; for its makers
  const TrustPages* trust = nullptr;  // with an own certificate; must outlive the API
};

class Api {
 public:
  /// book and people must outlive it. now: the clock.
  Api(ApiOptions options, LiveBook& book, People& people, std::function<Instant()> now);
  ~Api() { stop(); }

  /// Answers a request; on the server's lane.
  void answer(Request request, Respond respond);
  /// Has today's sheet computed for the book as it is now, by the slow threads.
  void prepare();
  /// Ends the computing; what still waits is not answered.
  void stop();

 private:
  void begin(Call call, Respond respond);

  const ApiOptions options_;
  DaySheets sheets_;
  Lane slow_;
  Desk desk_;
};

}  // namespace warmside::web
