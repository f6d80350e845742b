// light: the day length that animals want, as settings of timers.

#include <memory>

#include "cli/day_in_hand.h"
#include "light/lights.h"
#include "light/timer_plan.h"
#include "report/light_plan_report.h"

namespace warmside::cli {
namespace {

struct PlanOptions {
  BookOption book;
  std::string date, enclosure;
  int weeks = 52;
  bool json = false;
};

/// Of the enclosure that was asked for, else of all that have lamps.
std::vector<light::TimerPlan> plans_of(const room::Day& day, const room::Enclosure* wanted,
                                       int weeks) {
  if (wanted != nullptr) return {light::timer_plan(day, *wanted, weeks)};
  std::vector<light::TimerPlan> plans;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (!room::in_use(enclosure, day.date) || !light::lights_over(day, enclosure.id).any())
      continue;
    plans.push_back(light::timer_plan(day, enclosure, weeks));
  }
  return plans;
}

void plan(const PlanOptions& options, Face& face) {
  const auto book = open_book(options.book.path, face);
  if (!book) return;
  const auto hand = day_in_hand(*book, options.date, face);
  if (!hand) return;
  const room::Enclosure* wanted = nullptr;
  if (!options.enclosure.empty()) {
    const auto found = room::find_enclosure(hand->room, options.enclosure);
    if (!found) return face.refuse(found.problem());
    wanted = *found;
  }
  const auto plans = plans_of(hand->day, wanted, options.weeks);
  face.out << (options.json ? report::light_plan_as_json(hand->day, plans)
                            : report::light_plan_as_text(hand->day, plans, face.style));
  // Asked about one, "no plan" is the answer no.
  if (wanted != nullptr && !plans.front().unknown.empty()) face.exit_code = kBadData;
}

}  // namespace

void add_light_command(CLI::App& program, Face& face) {
  auto* light = program.add_subcommand("light", "the length of the animals' days");
  light->require_subcommand(1);
  auto* command = light->add_subcommand("plan", "settings of the lamps' timers week by week");
  auto options = std::make_shared<PlanOptions>();
  command->add_option("enclosure", options->enclosure, "its id or name; else all that have lamps")
      ->type_name("ENCLOSURE");
  options->book.add_to(*command);
  add_date_option(*command, options->date);
  command->add_option("--weeks", options->weeks, "how many; else 52")
      ->check(CLI::Range(1, 520))
      ->type_name("N");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside light plan --weeks 12 rack-b-1");
  command->callback([options, &face] { plan(*options, face); });
}

}  // namespace warmside::cli
