// Records as JSON: every record of the demo room comes back as it was; what is wrong is named.

#include "web/record_json.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "demo/demo_room.h"
#include "room/look_up.h"

namespace warmside::web {
namespace {

using testing::ElementsAre;

room::Room demo_room() {
  room::Room room = demo::make_demo_room().room;
  room::sort_records(room);
  return room;
}

/// Into an empty room, so that nothing of the record can have stayed where it was.
TEST(RecordJson, EveryRecordComesBack) {
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    room::Room room = demo_room();
    room.info.units = units;
    room::Room again;
    again.info.units = units;
    ASSERT_TRUE(put_record(again, "room", "room", room_info_json(room)).empty());
    int count = 0;
    const Json all = records_json(room);
    for (const auto& [kind, records] : all.items()) {
      for (const Json& record : records) {
        const std::string id = record.at("id");
        ASSERT_TRUE(put_record(again, kind, id, record).empty()) << kind << " " << id;
        ++count;
      }
    }
    EXPECT_GT(count, 50);
    // Quantities in metric units are written exactly; in US units the text is what must agree.
    if (units == UnitSystem::metric) {
      EXPECT_EQ(again, room);
    }
    EXPECT_EQ(records_json(again), records_json(room));
  }
}

TEST(RecordJson, NamesWhatIsWrong) {
  room::Room room = demo_room();
  const auto fields = [&](const char* kind, const char* text) {
    std::vector<std::string> wrong;
    for (const Problem& problem : put_record(room, kind, "fern", Json::parse(text))) {
      wrong.push_back(problem.where.field);
    }
    return wrong;
  };
  EXPECT_THAT(fields("animal", R"({"species": "crested-gecko"})"), ElementsAre());
  EXPECT_THAT(fields("animal", R"({})"), ElementsAre("animal fern.species"));
  EXPECT_THAT(fields("animal", R"({"species": "x", "count": 1.5, "breeding": 1, "born": "soon",
                                   "sex": "both", "name": null, "tail": "long"})"),
              ElementsAre("animal fern.name", "animal fern.sex", "animal fern.count",
                          "animal fern.born", "animal fern.breeding", "animal fern.tail"));
  EXPECT_THAT(fields("animal", R"({"id": "moss", "species": "x"})"), ElementsAre("animal fern.id"));
  EXPECT_THAT(fields("animal", R"({"species": "x", "count": 99999999999999999999})"),
              ElementsAre("animal fern.count"));
}

TEST(RecordJson, KnowsKinds) {
  EXPECT_TRUE(is_record_kind("room"));
  EXPECT_TRUE(is_record_kind("animal"));
  EXPECT_FALSE(is_record_kind("unicorn"));
  EXPECT_FALSE(is_record_kind(""));
  const Json kinds = record_kinds_json()["kinds"];
  EXPECT_EQ(kinds[0]["kind"], "room");
  for (const Json& kind : kinds) {
    for (const Json& field : kind["fields"]) {
      EXPECT_FALSE(field["form"].get<std::string>().empty()) << field;
      EXPECT_EQ(field["form"] == "id", !field["refers_to"].get<std::string>().empty()) << field;
      EXPECT_EQ(field["form"] == "word", !field["words"].empty()) << field;
    }
  }
}

TEST(RecordJson, TakesOutARecord) {
  room::Room room = demo_room();
  EXPECT_FALSE(find_record_json(room, "animal", "moss").is_null());
  EXPECT_TRUE(take_out_record(room, "animal", "moss"));
  EXPECT_TRUE(find_record_json(room, "animal", "moss").is_null());
  EXPECT_FALSE(take_out_record(room, "animal", "moss"));
  EXPECT_FALSE(take_out_record(room, "unicorn", "moss"));
}

TEST(Json, RefusesDepthDoublesAndNonsense) {
  const auto nested = [](int depth) {
    return std::string(static_cast<std::size_t>(depth), '[') +
           std::string(static_cast<std::size_t>(depth), ']');
  };
  EXPECT_TRUE(parse_json(nested(kDeepestJson)).ok());
  EXPECT_FALSE(parse_json(nested(kDeepestJson + 1)).ok());
  EXPECT_FALSE(parse_json(std::string(1'000'000, '[')).ok());
  EXPECT_TRUE(parse_json("\"" + std::string(100, '[') + "\"").ok()) << "brackets in a text";
  EXPECT_TRUE(parse_json(R"("\"[[[")").ok());
  EXPECT_FALSE(parse_json(R"({"a": 1, "a": 2})").ok());
  EXPECT_FALSE(parse_json(R"([{"b": {"a": 1, "a": 2}}])").ok());
  EXPECT_TRUE(parse_json(R"([{"a": 1}, {"a": 2}])").ok());
  for (const char* bad : {"", "{", "nul", "1 2", "\"\xff\"", "{\"a\":}"}) {
    EXPECT_FALSE(parse_json(bad).ok()) << bad;
  }
}

}  // namespace
}  // namespace warmside::web
