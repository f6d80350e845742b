#pragma once
// The operations of the API in one table: name, method, path, who may, and what answers. It says
// what docs/openapi.json says; a test holds them together, both ways.

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "room/look_up.h"
#include "web/day_sheets.h"
#include "web/http_server.h"
#include "web/live_book.h"
#include "web/people.h"
#include "web/router.h"

namespace warmside::web {

/// Who asks.
struct Visitor {
  std::string name;  // empty where nobody needs to sign in
  Role role = Role::sitter;
};

struct Operation;

/// A request that found its operation.
struct Call {
  Request request;
  const Operation* operation = nullptr;
  Parameters path, query;
  std::optional<Visitor> who;  // null: nobody; only operations for anyone see that
  std::string token;           // of the session, as sent
};

/// What operations work with.
class Desk {
 public:
  LiveBook& book;
  DaySheets& sheets;
  People& people;
  SignInPatience patience;
  const std::function<Instant()> now;
  const std::string version;       // of the program
  const bool open_without_people;  // whether everybody is owner while nobody could sign in

  Desk(LiveBook& b, DaySheets& s, People& p, std::function<Instant()> n, std::string v, bool open)
      : book(b),
        sheets(s),
        people(p),
        now(std::move(n)),
        version(std::move(v)),
        open_without_people(open) {}

  /// Who a token belongs to, or the owner without a name where nobody needs to sign in.
  std::optional<Visitor> visitor(std::string_view token) const;
  /// The room's records as they are now; read once for each change.
  std::shared_ptr<const room::Room> room();
  /// The room's date today.
  Date today() { return room::zone_of(*room()).date_of(now()); }

 private:
  struct RoomNow {
    std::int64_t change = -1;
    std::shared_ptr<const room::Room> room;
  };
  std::mutex room_mutex_;
  RoomNow room_now_;
};

/// Answers at a glance, on the quick lane.
using Quick = Response (*)(Desk&, const Call&);
/// Answers in its own time, on the slow lane.
struct Slow {
  Response (*answer)(Desk&, const Call&);
};
/// The same with today's sheet.
struct OfToday {
  Response (*answer)(Desk&, const Call&, const DaySheet&);
};
/// Answers when it is ready. On the quick lane: must not take long by itself.
struct Later {
  void (*begin)(Desk&, Call, Respond);
};

/// Who may: bits by Role, or anyone.
using Roles = unsigned;
constexpr Roles role_bit(Role role) {
  return 1u << static_cast<unsigned>(role);
}
constexpr Roles kOwner = role_bit(Role::owner), kKeepers = kOwner | role_bit(Role::keeper),
                kEveryRole = kKeepers | role_bit(Role::sitter), kAnyone = 1u << 31;

struct Operation {
  std::string_view id, method, path;
  Roles roles;
  std::variant<Quick, Slow, OfToday, Later> answer;
};

std::span<const Operation> all_operations();

// --- The answers, by theme: *_api.cpp. Their contract is docs/openapi.json. ---

Response answer_session(Desk& desk, const Call& call);
Response sign_in(Desk& desk, const Call& call);
Response sign_out(Desk& desk, const Call& call);

void answer_round(Desk& desk, Call call, Respond respond);
Response answer_room_plan(Desk& desk, const Call& call, const DaySheet& sheet);
void open_events(Desk& desk, Call call, Respond respond);
/// What a stream of events says of the book's change with this number.
Event change_event(std::int64_t change);

void write_entries(Desk& desk, Call call, Respond respond);
Response read_entries(Desk& desk, const Call& call);

Response answer_animal(Desk& desk, const Call& call, const DaySheet& sheet);
Response answer_weights(Desk& desk, const Call& call, const DaySheet& sheet);
Response answer_enclosure(Desk& desk, const Call& call, const DaySheet& sheet);
Response answer_maps(Desk& desk, const Call& call, const DaySheet& sheet);
Response answer_trace(Desk& desk, const Call& call);
Response answer_rota(Desk& desk, const Call& call, const DaySheet& sheet);
Response answer_species_list(Desk& desk, const Call& call);
Response answer_species(Desk& desk, const Call& call);

Response answer_record_kinds(Desk& desk, const Call& call);
Response answer_records(Desk& desk, const Call& call);
void put_record(Desk& desk, Call call, Respond respond);
void remove_record(Desk& desk, Call call, Respond respond);
void import_files(Desk& desk, Call call, Respond respond);
Response export_file(Desk& desk, const Call& call);

Response answer_people(Desk& desk, const Call& call);
Response put_person(Desk& desk, const Call& call);
Response remove_person(Desk& desk, const Call& call);

}  // namespace warmside::web
