#include "web/operations.h"

namespace warmside::web {
namespace {

constexpr Operation kOperations[] = {
    {"session", "GET", "/api/session", kAnyone, answer_session},
    {"sign_in", "POST", "/api/session", kAnyone, Slow{sign_in}},
    {"sign_out", "DELETE", "/api/session", kAnyone, Slow{sign_out}},
    {"round", "GET", "/api/round", kEveryRole, Later{answer_round}},
    {"write_entries", "POST", "/api/entries", kEveryRole, Later{write_entries}},
    {"read_entries", "GET", "/api/entries", kKeepers, Slow{read_entries}},
    {"room_plan", "GET", "/api/room", kKeepers, OfToday{answer_room_plan}},
    {"animal", "GET", "/api/animals/{id}", kKeepers, OfToday{answer_animal}},
    {"weights", "GET", "/api/animals/{id}/weights", kKeepers, OfToday{answer_weights}},
    {"enclosure", "GET", "/api/enclosures/{id}", kKeepers, OfToday{answer_enclosure}},
    {"maps", "GET", "/api/enclosures/{id}/maps", kKeepers, OfToday{answer_maps}},
    {"record_kinds", "GET", "/api/kinds", kKeepers, answer_record_kinds},
    {"records", "GET", "/api/records", kKeepers, answer_records},
    {"put_record", "PUT", "/api/records/{kind}/{id}", kKeepers, Later{put_record}},
    {"remove_record", "DELETE", "/api/records/{kind}/{id}", kKeepers, Later{remove_record}},
    {"import_files", "POST", "/api/import", kOwner, Later{import_files}},
    {"export_file", "GET", "/api/export/{name}", kOwner, Slow{export_file}},
    {"trace", "GET", "/api/trace", kKeepers, Slow{answer_trace}},
    {"rota", "GET", "/api/rota", kKeepers, OfToday{answer_rota}},
    {"species_list", "GET", "/api/species", kKeepers, answer_species_list},
    {"species", "GET", "/api/species/{id}", kKeepers, answer_species},
    {"events", "GET", "/api/events", kEveryRole, Later{open_events}},
    {"people", "GET", "/api/people", kOwner, answer_people},
    {"put_person", "PUT", "/api/people/{name}", kOwner, Slow{put_person}},
    {"remove_person", "DELETE", "/api/people/{name}", kOwner, Slow{remove_person}},
};

}  // namespace

std::span<const Operation> all_operations() {
  return kOperations;
}

std::optional<Visitor> Desk::visitor(std::string_view token) const {
  if (open_without_people && people.all().empty()) return Visitor{"", Role::owner};
  const auto person = people.signed_in(token, now());
  if (!person) return std::nullopt;
  return Visitor{person->name, person->role};
}

std::shared_ptr<const room::Room> Desk::room() {
  const std::int64_t change = book.change();
  {
    const std::lock_guard lock(room_mutex_);
    if (room_now_.change == change) return room_now_.room;
  }
  auto room = std::make_shared<const room::Room>(
      book.read([](const book::Book& open) { return open.room(); }));
  const std::lock_guard lock(room_mutex_);
  // Read after the number was taken: it may be newer than its number, never older.
  if (room_now_.change < change) room_now_ = {change, room};
  return room;
}

}  // namespace warmside::web
