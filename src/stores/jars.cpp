#include "stores/jars.h"

#include <fmt/format.h>

#include <algorithm>

namespace warmside::stores {

std::optional<Date> opened_on(const room::Day& day, const room::Jar& jar) {
  const auto* entry = day.history->latest_of({room::SubjectKind::jar, jar.id.text()},
                                             {room::EntryKind::opened, room::EntryKind::replaced});
  if (entry == nullptr) return jar.opened;
  // A new jar may be written into the room file only.
  return jar.opened ? std::max(*jar.opened, day.date_of(*entry)) : day.date_of(*entry);
}

std::vector<Finding> findings(const room::Day& day) {
  std::vector<Finding> found;
  for (const room::Jar& jar : day.room->jars) {
    if (!room::in_use(jar, day.date) || !jar.expires || *jar.expires >= day.date) continue;
    found.push_back({When::today, "jar", jar.id.text(),
                     fmt::format("The jar {} is past its date", jar.id.text()),
                     fmt::format("{}, good until {}.", word(jar.contents), to_text(*jar.expires)),
                     "Do not use it. Open a new one, write down the day, and put the new jar's own "
                     "date into the room file.",
                     "the date printed on the jar", "stores"});
  }
  return found;
}

}  // namespace warmside::stores
