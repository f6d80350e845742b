#pragma once
// Timers week by week (light/timer_plan.h): for people and as JSON
// (docs/schema/light_plan.schema.json).

#include <string>
#include <vector>

#include "light/timer_plan.h"
#include "report/sheet.h"

namespace warmside::report {

std::string light_plan_as_text(const room::Day& day, const std::vector<light::TimerPlan>& plans,
                               const SheetStyle& style);
std::string light_plan_as_json(const room::Day& day, const std::vector<light::TimerPlan>& plans);

}  // namespace warmside::report
