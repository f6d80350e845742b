#include "safety/findings.h"

#include "unit/safety/safe_room.h"

namespace warmside::safety {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<Finding> found(const SafeRoom& room) {
  return findings(room.build().day(kToday).day);
}

TEST(Safety, AWellFoundRoomHasNoFinding) {
  EXPECT_THAT(found(SafeRoom()), IsEmpty());
  EXPECT_THAT(findings(RoomBuilder().day(kToday).day), IsEmpty());
}

TEST(Safety, AllThatIsNotKnownIsOneFinding) {
  const SafeRoom room{
      .info = [](auto& r) { r.country.clear(); },
      .circuit = [](auto& c) { c.capacity.reset(); },
      .strip = [](auto& s) { s.capacity.reset(); },
      .mat = [](auto& h) { h.power.reset(); },
      .lamp =
          [](auto& l) {
            l.power.reset();
            l.nearest.clear();
            l.within_reach = room::Answer::unknown;
          },
      .alarm = [](auto& d) { d.battery.reset(); },
      .extinguisher = [](auto& d) { d.by_the_door = room::Answer::unknown; },
  };
  const auto all = found(room);
  ASSERT_THAT(all, ElementsAre(not_known("the country, for its rules of mains")));
  for (const char* what :
       {"the power of mat and lamp", "the load printed on strip", "the rating (capacity) of ring",
        "what near these can burn or melt: lamp", "whether an animal can touch lamp",
        "when the battery was new in alarm", "whether it hangs by the door: red"}) {
    EXPECT_THAT(all[0].evidence, HasSubstr(what));
  }
  EXPECT_THAT(all[0].evidence, HasSubstr("So these were not judged"));
}

TEST(Safety, EveryAdviceAboutElectricityDefersToCodeAndElectrician) {
  const SafeRoom room{
      .circuit =
          [](auto& c) {
            c.capacity = q<Power>("60W");
            c.residual_current_device = room::Answer::no;
          },
      .timer = [](auto& t) { t.capacity = q<Power>("40W"); },
      .mat = [](auto& h) { h.thermostat = {}; },
  };
  const auto all = found(room);
  EXPECT_GE(all.size(), 4u);
  for (const Finding& finding : all) {
    EXPECT_THAT(finding.advice, HasSubstr("Local code goes first")) << finding.headline;
    EXPECT_THAT(finding.advice, HasSubstr("licensed electrician")) << finding.headline;
    EXPECT_FALSE(finding.source.empty());
  }
}

}  // namespace
}  // namespace warmside::safety
