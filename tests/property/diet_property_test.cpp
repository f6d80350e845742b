// Whatever a room's records and notebook say: matching finds a food of the pantry or none, advice
// and findings come in whole sentences, and energy is judged in order.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "diet/feeding_advice.h"
#include "diet/findings.h"
#include "property/room_generator.h"
#include "room/day.h"

namespace warmside::property {
namespace {

RC_GTEST_PROP(DietProperty, AnyWordsMeanOneFoodOrNone, ()) {
  const room::Room room = *any_room(2);
  const diet::Pantry pantry(room);
  const std::string words = *rc::gen::oneOf(
      any_text(120), rc::gen::element<std::string>("adult mouse", "crickets", "frozen", "roach"));
  const diet::Match match = pantry.match(words);
  if (match.food != nullptr) {
    RC_ASSERT(match.could_be.empty());
    RC_ASSERT(pantry.find(match.food->id) == match.food);
  }
  RC_ASSERT(pantry.match(words).food == match.food);
}

RC_GTEST_PROP(DietProperty, AnyNotebookIsJudgedWithoutHarm, ()) {
  const room::Room room = *any_room();
  const Date today = *rc::gen::map(rc::gen::inRange(20'000, 21'000),
                                   [](int days) { return Date::days_from_epoch(days); });
  const Zone zone = Zone::named(room.info.zone).value();
  const auto entries =
      without_struck(*any_entries(room, 30, zone.start_of(today - 40), zone.start_of(today + 1)));
  const room::History history(entries, zone.start_of(today + 1));
  const room::Day day = room::make_day(room, history, today);
  for (const Finding& finding : diet::findings(day)) {
    RC_ASSERT(!finding.headline.empty() && !finding.evidence.empty() && !finding.advice.empty());
    RC_ASSERT(finding.module == "diet");
  }
  const diet::Pantry pantry(room);
  for (const room::AnimalDay& animal : day.animals) {
    const diet::Advice advice = diet::feeding_advice(animal, day, pantry, today);
    for (const diet::Thaw& thaw : advice.thaw) {
      RC_ASSERT(thaw.supply != nullptr && thaw.supply->kind == room::SupplyKind::frozen_prey);
    }
  }
}

// More food is never judged as less, and a higher need never as more.
RC_GTEST_PROP(DietProperty, EnergyIsJudgedInOrder, ()) {
  const auto positive =
      rc::gen::map(rc::gen::inRange(1, 1'000'000), [](int n) { return n / 100.0; });
  const double low = *positive, width = *positive, more = *positive;
  const double need = *positive, spread = *positive;
  const diet::EnergyBand band{Energy::kilojoules(need), Energy::kilojoules(need + spread / 2),
                              Energy::kilojoules(need + spread)};
  const auto rank = [](diet::EnergyVerdict verdict) {
    switch (verdict) {
      case diet::EnergyVerdict::surely_too_little:
        return 0;
      case diet::EnergyVerdict::unsure:
      case diet::EnergyVerdict::unknown:
        return 1;
      case diet::EnergyVerdict::surely_enough:
        return 2;
      case diet::EnergyVerdict::surely_too_much:
        return 3;
    }
    return -1;
  };
  const int before = rank(diet::judge_energy({low, low + width}, band));
  const int after = rank(diet::judge_energy({low + more, low + width + more}, band));
  RC_ASSERT(after >= before);
}

}  // namespace
}  // namespace warmside::property
