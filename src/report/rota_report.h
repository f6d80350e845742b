#pragma once
// A rota, for people and as JSON (docs/schema/diet_rota.schema.json).

#include <string>
#include <vector>

#include "diet/room_rota.h"
#include "diet/rota.h"
#include "report/sheet.h"

namespace warmside::report {

struct SaidOfAnimal {
  std::string animal, what;
};
/// What a room's rota says beside the answer; empty for a file.
struct RotaOfRoom {
  std::vector<SaidOfAnimal> left_out, cannot_be_met;
};

RotaOfRoom rota_of_room(const diet::RoomRota& rota, const room::Room& room);

std::string rota_as_text(const diet::RotaProblem& problem, const diet::RotaAnswer& answer,
                         const RotaOfRoom& room, const SheetStyle& style);
std::string rota_as_json(const diet::RotaProblem& problem, const diet::RotaAnswer& answer,
                         const RotaOfRoom& room);

}  // namespace warmside::report
