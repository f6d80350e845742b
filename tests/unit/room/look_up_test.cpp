// Finding records, an animal's own profile and home, and every defect that check_room must see.

#include "room/look_up.h"

#include <gtest/gtest.h>

#include <functional>
#include <limits>
#include <string>
#include <vector>

namespace warmside::room {
namespace {

using species::Key;
using species::SpeciesId;

Date date(int year, int month, int day) {
  return *Date::of(year, month, day);
}

template <class Id>
Id id(const char* text) {
  return Id::trusted(text);
}

Animal animal(const char* its_id, const char* name, const char* its_species) {
  Animal a;
  a.id = id<AnimalId>(its_id);
  a.name = name;
  a.species = id<SpeciesId>(its_species);
  return a;
}

Override override_of(const char* its_id, const char* whose, const char* of_species, const char* key,
                     const char* value) {
  Override o;
  o.id = id<OverrideId>(its_id);
  o.animal = id<AnimalId>(whose);
  o.species = id<SpeciesId>(of_species);
  o.key = key;
  o.value = value;
  o.reason = "as I see it";
  return o;
}

/// A record of every kind, all references filled, nothing wrong; lists in id order.
Room good_room() {
  Room room;
  room.info.name = "The back room";
  room.info.zone = "Europe/Oslo";
  room.info.latitude_deg = 59.9;
  room.info.longitude_deg = 10.7;
  room.keepers = {{id<KeeperId>("ann"), KeeperRole::keeper}};
  room.own_species = {
      {id<SpeciesId>("rough_snake"), "Rough snake", "Opheodrys aestivus", Group::snake, "diurnal"}};
  room.circuits = {{id<CircuitId>("c1"), "Left", Power::watts(2300), Answer::yes}};
  Socket wall;
  wall.id = id<SocketId>("s1");
  wall.circuit = id<CircuitId>("c1");
  Socket strip;
  strip.id = id<SocketId>("strip");
  strip.plugged_into = wall.id;
  room.sockets = {wall, strip};
  Timer timer;
  timer.id = id<TimerId>("t1");
  timer.on = TimeOfDay{420};
  timer.off = TimeOfDay{1140};
  timer.socket = wall.id;
  room.timers = {timer};
  Appliance pump;
  pump.id = id<ApplianceId>("pump");
  pump.socket = strip.id;
  pump.timer = timer.id;
  room.appliances = {pump};
  Enclosure one, two;
  one.id = id<EnclosureId>("viv-1");
  one.name = "Left";
  two.id = id<EnclosureId>("viv-2");
  two.name = "Right";
  room.enclosures = {one, two};
  Thermostat thermostat;
  thermostat.id = id<ThermostatId>("stat-1");
  thermostat.enclosure = one.id;
  thermostat.socket = id<SocketId>("s1");
  room.thermostats = {thermostat};
  Heater heater;
  heater.id = id<HeaterId>("mat-1");
  heater.enclosure = one.id;
  heater.thermostat = thermostat.id;
  heater.socket = id<SocketId>("s1");
  room.heaters = {heater};
  Lamp lamp;
  lamp.id = id<LampId>("lamp-1");
  lamp.enclosure = one.id;
  lamp.timer = id<TimerId>("t1");
  lamp.thermostat = thermostat.id;
  lamp.socket = id<SocketId>("s1");
  room.lamps = {lamp};
  Instrument scale;
  scale.id = id<InstrumentId>("scale-1");
  scale.enclosure = one.id;
  room.instruments = {scale};
  Tool tongs;
  tongs.id = id<ToolId>("tongs-1");
  tongs.enclosure = one.id;
  room.tools = {tongs};
  Jar jar;
  jar.id = id<JarId>("calcium-1");
  room.jars = {jar};
  Supply mice;
  mice.id = id<SupplyId>("mice");
  mice.name = "Mice";
  mice.food = id<FoodId>("own-mouse");
  Supply crickets;
  crickets.id = id<SupplyId>("z-crickets");
  crickets.name = "Crickets";
  crickets.food = id<FoodId>("cricket_banded");
  room.supplies = {mice, crickets};
  OwnFood mouse;
  mouse.id = id<FoodId>("own-mouse");
  mouse.name = "the farm's mice";
  room.own_foods = {mouse};
  SafetyDevice alarm;
  alarm.id = id<SafetyDeviceId>("alarm-1");
  room.safety_devices = {alarm};
  Animal corn = animal("corn-1", "Ruby", "corn_snake");
  corn.enclosure = one.id;
  corn.born = date(2020, 6, 1);
  corn.arrived = date(2020, 6, 1);  // hatched here
  corn.left = date(2020, 6, 1);
  room.animals = {corn, animal("rough-1", "", "rough_snake")};
  room.overrides = {override_of("o1", "corn-1", "", "night", "19C..23C"),
                    override_of("o2", "", "corn_snake", "night", "18C..22C"),
                    override_of("o3", "", "rough_snake", "night", "18C..22C")};
  StandingTask task;
  task.id = id<StandingTaskId>("filter");
  task.title = "Rinse the filter";
  task.enclosure = one.id;
  task.animal = corn.id;
  room.tasks = {task};
  return room;
}

// ---- find ----

TEST(Find, ByIdInOrder) {
  const Room room = good_room();
  EXPECT_EQ(find(room.animals, id<AnimalId>("rough-1")), &room.animals[1]);
  EXPECT_EQ(find(room.animals, id<AnimalId>("corn-2")), nullptr);
  EXPECT_EQ(find(room.animals, AnimalId()), nullptr);
  EXPECT_EQ(find(room.animals, id<AnimalId>("zzz")), nullptr);
  EXPECT_EQ(find(std::vector<Animal>(), id<AnimalId>("a")), nullptr);
}

TEST(FindAnimal, ByIdOrNameInSmallAndCapitalLetters) {
  const Room room = good_room();
  for (const char* wanted : {"corn-1", "Ruby", "ruby", "RUBY"}) {
    const auto found = find_animal(room, wanted);
    ASSERT_TRUE(found.ok()) << wanted;
    EXPECT_EQ(*found, &room.animals[0]) << wanted;
  }
  const auto right = find_enclosure(room, "right");
  ASSERT_TRUE(right.ok());
  EXPECT_EQ((*right)->id.text(), "viv-2");
}

TEST(FindAnimal, NoneOfThisNameListsWhatThereIs) {
  const Room room = good_room();
  for (const char* wanted : {"", " ", "Rub", "ruby ", "corn", "CORN-1"}) {
    const auto found = find_animal(room, wanted);
    ASSERT_FALSE(found.ok()) << wanted;
    EXPECT_EQ(found.problem().code, ProblemCode::unknown_name);
    EXPECT_NE(found.problem().expected.find("corn-1"), std::string::npos);
    EXPECT_NE(found.problem().expected.find("rough-1"), std::string::npos);
  }
  const auto found = find_animal(Room(), "x");
  ASSERT_FALSE(found.ok());
  EXPECT_FALSE(found.problem().expected.empty());
}

TEST(FindAnimal, ANameOfTwoIsAProblemUnlessItIsAnId) {
  Room room = good_room();
  room.animals = {animal("a", "Ruby", "corn_snake"), animal("b", "ruby", "corn_snake"),
                  animal("ruby", "Opal", "corn_snake")};
  const auto capital = find_animal(room, "Ruby");
  ASSERT_FALSE(capital.ok());
  EXPECT_EQ(capital.problem().code, ProblemCode::unknown_name);
  EXPECT_NE(capital.problem().what.find("more than one"), std::string::npos);
  const auto by_id = find_animal(room, "ruby");  // the id goes first
  ASSERT_TRUE(by_id.ok());
  EXPECT_EQ((*by_id)->name, "Opal");
}

TEST(FindAnimal, TheListOfABigRoomIsCutShort) {
  Room room;
  for (int i = 1000; i < 2000; ++i) {
    room.animals.push_back(animal(("animal-" + std::to_string(i)).c_str(), "", "corn_snake"));
  }
  const auto found = find_animal(room, "x");
  ASSERT_FALSE(found.ok());
  EXPECT_LT(found.problem().expected.size(), 500u);
}

TEST(SortRecords, PutsEveryListInIdOrder) {
  Room room = good_room();
  const Room sorted = room;
  Room::for_each_kind(room, [](auto& records) { std::reverse(records.begin(), records.end()); });
  sort_records(room);
  EXPECT_EQ(room, sorted);
}

TEST(SubjectOf, NamesKindAndId) {
  const Room room = good_room();
  EXPECT_EQ(subject_of(room.animals[0]), (Subject{SubjectKind::animal, "corn-1"}));
  EXPECT_EQ(subject_of(room.enclosures[1]), (Subject{SubjectKind::enclosure, "viv-2"}));
}

// ---- Profiles ----

TEST(FindSpecies, BuiltInOwnAndNone) {
  const Room room = good_room();
  species::Profile storage;
  EXPECT_EQ(find_species(room, id<SpeciesId>("corn_snake"), storage),
            species::built_in().find(id<SpeciesId>("corn_snake")));
  const auto* own = find_species(room, id<SpeciesId>("rough_snake"), storage);
  ASSERT_EQ(own, &storage);
  EXPECT_EQ(own->common_name, "Rough snake");
  EXPECT_EQ(own->group, Group::snake);
  EXPECT_TRUE(own->facts.empty());
  EXPECT_EQ(find_species(room, id<SpeciesId>("dragon"), storage), nullptr);
}

Range<Temperature> night_of(const Room& room, const Animal& of) {
  const species::Profile profile = profile_of(room, of);
  const auto* value = profile.value<Range<Temperature>>(Key::night);
  EXPECT_NE(value, nullptr);
  return value == nullptr ? Range<Temperature>{} : *value;
}

constexpr Range<Temperature> celsius(double low, double high) {
  return {Temperature::celsius(low), Temperature::celsius(high)};
}

TEST(ProfileOf, TheAnimalsOverrideGoesBeforeItsSpeciesWhateverTheOrder) {
  Room room = good_room();  // o1 for the animal stands before o2 for its species
  room.animals = {animal("corn-1", "", "corn_snake"), animal("corn-2", "", "corn_snake"),
                  animal("rough-1", "", "rough_snake"), animal("royal-1", "", "royal_python")};
  EXPECT_EQ(night_of(room, room.animals[0]), celsius(19, 23));
  EXPECT_EQ(night_of(room, room.animals[1]), celsius(18, 22));
  EXPECT_EQ(night_of(room, room.animals[2]), celsius(18, 22));
  const auto* royal = species::built_in().find(id<SpeciesId>("royal_python"));
  EXPECT_EQ(profile_of(room, room.animals[3]).facts, royal->facts);
  std::swap(room.overrides[0], room.overrides[1]);
  EXPECT_EQ(night_of(room, room.animals[0]), celsius(19, 23));
}

TEST(ProfileOf, AnOverrideIsTheKeepersAndSaysWhatItReplaced) {
  const Room room = good_room();
  const species::Profile corn = profile_of(room, room.animals[0]);
  const species::Fact* night = corn.find(Key::night);
  ASSERT_NE(night, nullptr);
  EXPECT_EQ(night->trust, Trust::keeper);
  EXPECT_NE(night->source.find("as I see it"), std::string::npos);
  EXPECT_NE(night->note.find("18 – 22 °C"), std::string::npos) << night->note;
  EXPECT_EQ(corn.find(Key::humidity)->trust, Trust::common_practice);  // the rest stays
  const species::Profile rough = profile_of(room, room.animals[1]);
  ASSERT_EQ(rough.facts.size(), 1u);
  EXPECT_EQ(rough.facts[0].note, "");
}

TEST(ProfileOf, UnreadableOverridesAndSpeciesArePassedOver) {
  Room room = good_room();
  room.overrides = {override_of("o1", "corn-1", "", "nights", "1C..2C"),
                    override_of("o2", "corn-1", "", "night", "cold")};
  EXPECT_EQ(profile_of(room, room.animals[0]).facts,
            species::built_in().find(id<SpeciesId>("corn_snake"))->facts);
  const species::Profile nothing = profile_of(room, animal("x", "", "no_such"));
  EXPECT_TRUE(nothing.facts.empty());
}

// ---- Where and whether ----

Entry move(const char* whose, const char* to, std::int64_t at_ms) {
  Entry entry;
  entry.kind = EntryKind::moved;
  entry.at = Instant::unix_ms(at_ms);
  entry.subject = {SubjectKind::animal, whose};
  entry.target = Subject{SubjectKind::enclosure, to};
  return entry;
}

TEST(HomeOf, LatestMoveOrElseTheRecord) {
  Animal corn = animal("corn-1", "", "corn_snake");
  EXPECT_TRUE(home_of(corn, History()).empty());
  corn.enclosure = id<EnclosureId>("viv-1");
  EXPECT_EQ(home_of(corn, History()).text(), "viv-1");
  const History history({move("corn-1", "viv-3", 30), move("corn-1", "viv-2", 20),
                         move("corn-2", "viv-4", 40), move("corn-1", "viv-1", 10)},
                        Instant::unix_ms(50));
  EXPECT_EQ(home_of(corn, history).text(), "viv-3");
  EXPECT_EQ(home_of(animal("corn-3", "", "corn_snake"), history).text(), "");
}

TEST(IsHere, FromTheDayOfArrivalToTheDayBeforeLeaving) {
  Animal corn = animal("corn-1", "", "corn_snake");
  EXPECT_TRUE(is_here(corn, date(1, 1, 1)));
  corn.arrived = date(2026, 3, 1);
  EXPECT_FALSE(is_here(corn, date(2026, 2, 28)));
  EXPECT_TRUE(is_here(corn, date(2026, 3, 1)));
  corn.left = date(2026, 5, 1);
  EXPECT_TRUE(is_here(corn, date(2026, 4, 30)));
  EXPECT_FALSE(is_here(corn, date(2026, 5, 1)));
  corn.arrived.reset();
  EXPECT_TRUE(is_here(corn, date(2026, 2, 28)));
  EXPECT_FALSE(is_here(corn, date(2026, 5, 2)));
}

// ---- check_room ----

std::vector<std::string> found(const Room& room) {
  std::vector<std::string> list;
  for (const RecordProblem& p : check_room(room)) {
    EXPECT_FALSE(p.problem.what.empty());
    list.push_back(p.kind + "/" + p.id + "/" + p.field + ": " + name_of(p.problem.code));
  }
  return list;
}

TEST(CheckRoom, ACleanRoomHasNoProblems) {
  EXPECT_EQ(found(good_room()), std::vector<std::string>{});
  Room bare;
  bare.info.name = "x";
  EXPECT_EQ(found(bare), std::vector<std::string>{});
}

// Who mistypes a food is shown those that are like it.
TEST(CheckRoom, AnUnknownFoodNamesTheLikest) {
  Room room = good_room();
  room.supplies[0].food = id<FoodId>("adult-mouse");
  const auto problems = check_room(room);
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_NE(problems[0].problem.expected.find("mouse_adult, "), std::string::npos)
      << problems[0].problem.expected;
  room.supplies[0].food = id<FoodId>("xyzzy");
  EXPECT_EQ(check_room(room)[0].problem.expected,
            "an id from `warmside foods`, or of your own [[food]]");
}

struct Defect {
  const char* name;
  std::function<void(Room&)> plant;
  const char* expected;  // "kind/id/field: code"
};

const std::vector<Defect> kDefects{
    {"room_without_name", [](Room& r) { r.info.name.clear(); }, "room//name: missing"},
    {"zone_unknown", [](Room& r) { r.info.zone = "Europe/Atlantis"; }, "room//zone: unknown_name"},
    {"zone_empty", [](Room& r) { r.info.zone.clear(); }, "room//zone: unknown_name"},
    {"latitude_over_90", [](Room& r) { r.info.latitude_deg = 90.1; },
     "room//latitude: out_of_range"},
    {"latitude_not_a_number",
     [](Room& r) { r.info.latitude_deg = std::numeric_limits<double>::quiet_NaN(); },
     "room//latitude: out_of_range"},
    {"longitude_under_180", [](Room& r) { r.info.longitude_deg = -180.1; },
     "room//longitude: out_of_range"},
    {"id_with_capitals", [](Room& r) { r.keepers[0].id = id<KeeperId>("Ann"); },
     "keeper/Ann/id: bad_value"},
    {"id_empty", [](Room& r) { r.jars[0].id = JarId(); }, "jar//id: bad_value"},
    {"id_twice", [](Room& r) { r.enclosures.push_back(r.enclosures[1]); },
     "enclosure/viv-2/id: duplicate"},
    {"own_species_that_is_built_in",
     [](Room& r) {
       r.own_species.insert(r.own_species.begin(), r.own_species[0]);
       r.own_species[0].id = id<SpeciesId>("axolotl");
     },
     "species/axolotl/id: conflict"},
    {"own_species_without_name", [](Room& r) { r.own_species[0].common_name.clear(); },
     "species/rough_snake/common_name: missing"},
    {"supply_without_name", [](Room& r) { r.supplies[0].name.clear(); },
     "supply/mice/name: missing"},
    {"supply_food", [](Room& r) { r.supplies[0].food = id<FoodId>("adult-mouse"); },
     "supply/mice/food: unknown_name"},
    {"piece_of_no_mass", [](Room& r) { r.supplies[0].piece_mass = Mass::grams(0); },
     "supply/mice/piece_mass: out_of_range"},
    {"own_food_without_name", [](Room& r) { r.own_foods[0].name.clear(); },
     "food/own-mouse/name: missing"},
    {"own_food_all_water", [](Room& r) { r.own_foods[0].water = Percentage::percent(101); },
     "food/own-mouse/water: out_of_range"},
    {"own_food_below_nothing", [](Room& r) { r.own_foods[0].calcium_mg_per_kg = -1; },
     "food/own-mouse/calcium_mg_per_kg: out_of_range"},
    {"own_food_richer_than_fat", [](Room& r) { r.own_foods[0].energy_kcal_per_100g = 1500; },
     "food/own-mouse/energy_kcal_per_100g: out_of_range"},
    {"own_food_all_acid", [](Room& r) { r.own_foods[0].oxalic_acid_g_per_100g = 101; },
     "food/own-mouse/oxalic_acid_g_per_100g: out_of_range"},
    {"label_of_no_number",
     [](Room& r) { r.jars[0].retinol_iu_per_g = std::numeric_limits<double>::quiet_NaN(); },
     "jar/calcium-1/retinol_iu_per_g: out_of_range"},
    {"label_in_other_units", [](Room& r) { r.jars[0].vitamin_d3_iu_per_g = 400'000; },
     "jar/calcium-1/vitamin_d3_iu_per_g: out_of_range"},
    {"label_over_the_whole", [](Room& r) { r.jars[0].calcium = Percentage::percent(380); },
     "jar/calcium-1/calcium: out_of_range"},
    {"text_too_long", [](Room& r) { r.animals[0].marks = std::string(kLongestNote + 1, 'x'); },
     "animal/corn-1/marks: bad_value"},
    {"socket_circuit", [](Room& r) { r.sockets[0].circuit = id<CircuitId>("c9"); },
     "socket/s1/circuit: unknown_name"},
    {"strip_into", [](Room& r) { r.sockets[1].plugged_into = id<SocketId>("s9"); },
     "socket/strip/plugged_into: unknown_name"},
    {"strip_with_a_circuit", [](Room& r) { r.sockets[1].circuit = id<CircuitId>("c1"); },
     "socket/strip/circuit: bad_value"},
    {"strip_into_itself", [](Room& r) { r.sockets[1].plugged_into = r.sockets[1].id; },
     "socket/strip/plugged_into: conflict"},
    {"country_in_words", [](Room& r) { r.info.country = "Norway"; }, "room//country: bad_value"},
    {"country_in_small_letters", [](Room& r) { r.info.country = "no"; },
     "room//country: bad_value"},
    {"mesh_more_than_open", [](Room& r) { r.enclosures[0].mesh_open = Percentage::percent(101); },
     "enclosure/viv-1/mesh_open: out_of_range"},
    {"beam_of_no_angle", [](Room& r) { r.lamps[0].beam_deg = 0.5; },
     "lamp/lamp-1/beam_deg: out_of_range"},
    {"beam_past_all_round", [](Room& r) { r.lamps[0].beam_deg = 180.5; },
     "lamp/lamp-1/beam_deg: out_of_range"},
    {"beam_not_a_number",
     [](Room& r) { r.lamps[0].beam_deg = std::numeric_limits<double>::quiet_NaN(); },
     "lamp/lamp-1/beam_deg: out_of_range"},
    {"appliance_socket", [](Room& r) { r.appliances[0].socket = id<SocketId>("s9"); },
     "appliance/pump/socket: unknown_name"},
    {"appliance_timer", [](Room& r) { r.appliances[0].timer = id<TimerId>("t9"); },
     "appliance/pump/timer: unknown_name"},
    {"appliance_always_and_more",
     [](Room& r) { r.appliances[0].running = Percentage::percent(101); },
     "appliance/pump/running: out_of_range"},
    {"timer_socket", [](Room& r) { r.timers[0].socket = id<SocketId>("s9"); },
     "timer/t1/socket: unknown_name"},
    {"thermostat_enclosure", [](Room& r) { r.thermostats[0].enclosure = id<EnclosureId>("viv-9"); },
     "thermostat/stat-1/enclosure: unknown_name"},
    {"thermostat_socket", [](Room& r) { r.thermostats[0].socket = id<SocketId>("s9"); },
     "thermostat/stat-1/socket: unknown_name"},
    {"heater_enclosure", [](Room& r) { r.heaters[0].enclosure = id<EnclosureId>("viv-9"); },
     "heater/mat-1/enclosure: unknown_name"},
    {"heater_thermostat", [](Room& r) { r.heaters[0].thermostat = id<ThermostatId>("stat-9"); },
     "heater/mat-1/thermostat: unknown_name"},
    {"heater_socket", [](Room& r) { r.heaters[0].socket = id<SocketId>("s9"); },
     "heater/mat-1/socket: unknown_name"},
    {"lamp_enclosure", [](Room& r) { r.lamps[0].enclosure = id<EnclosureId>("viv-9"); },
     "lamp/lamp-1/enclosure: unknown_name"},
    {"lamp_timer", [](Room& r) { r.lamps[0].timer = id<TimerId>("t9"); },
     "lamp/lamp-1/timer: unknown_name"},
    {"lamp_thermostat", [](Room& r) { r.lamps[0].thermostat = id<ThermostatId>("stat-9"); },
     "lamp/lamp-1/thermostat: unknown_name"},
    {"lamp_socket", [](Room& r) { r.lamps[0].socket = id<SocketId>("s9"); },
     "lamp/lamp-1/socket: unknown_name"},
    {"instrument_enclosure", [](Room& r) { r.instruments[0].enclosure = id<EnclosureId>("viv-9"); },
     "instrument/scale-1/enclosure: unknown_name"},
    {"tool_enclosure", [](Room& r) { r.tools[0].enclosure = id<EnclosureId>("viv-9"); },
     "tool/tongs-1/enclosure: unknown_name"},
    {"reference_with_the_id_of_another_kind",
     [](Room& r) { r.tools[0].enclosure = id<EnclosureId>("corn-1"); },
     "tool/tongs-1/enclosure: unknown_name"},
    {"animal_enclosure", [](Room& r) { r.animals[0].enclosure = id<EnclosureId>("viv-9"); },
     "animal/corn-1/enclosure: unknown_name"},
    {"animal_species", [](Room& r) { r.animals[1].species = id<SpeciesId>("dragon"); },
     "animal/rough-1/species: unknown_name"},
    {"animal_without_species", [](Room& r) { r.animals[1].species = SpeciesId(); },
     "animal/rough-1/species: missing"},
    {"no_animals", [](Room& r) { r.animals[0].count = 0; }, "animal/corn-1/count: out_of_range"},
    {"too_many_animals", [](Room& r) { r.animals[0].count = 10'001; },
     "animal/corn-1/count: out_of_range"},
    {"arrived_before_born", [](Room& r) { r.animals[0].born = date(2020, 6, 2); },
     "animal/corn-1/arrived: conflict"},
    {"left_before_arrived", [](Room& r) { r.animals[0].left = date(2020, 5, 31); },
     "animal/corn-1/left: conflict"},
    {"override_animal", [](Room& r) { r.overrides[0].animal = id<AnimalId>("corn-9"); },
     "override/o1/animal: unknown_name"},
    {"override_species", [](Room& r) { r.overrides[1].species = id<SpeciesId>("dragon"); },
     "override/o2/species: unknown_name"},
    {"override_of_both", [](Room& r) { r.overrides[0].species = id<SpeciesId>("corn_snake"); },
     "override/o1/animal: bad_value"},
    {"override_of_neither", [](Room& r) { r.overrides[0].animal = AnimalId(); },
     "override/o1/animal: bad_value"},
    {"override_key", [](Room& r) { r.overrides[0].key = "nights"; },
     "override/o1/key: unknown_name"},
    {"override_value", [](Room& r) { r.overrides[0].value = "19..23"; },
     "override/o1/value: bad_value"},
    {"override_value_of_another_kind", [](Room& r) { r.overrides[0].value = "19%..23%"; },
     "override/o1/value: bad_value"},
    {"override_without_reason", [](Room& r) { r.overrides[0].reason.clear(); },
     "override/o1/reason: missing"},
    {"override_twice",
     [](Room& r) { r.overrides.push_back(override_of("o4", "corn-1", "", "night", "1C..2C")); },
     "override/o4/key: duplicate"},
    {"task_without_title", [](Room& r) { r.tasks[0].title.clear(); }, "task/filter/title: missing"},
    {"task_enclosure", [](Room& r) { r.tasks[0].enclosure = id<EnclosureId>("viv-9"); },
     "task/filter/enclosure: unknown_name"},
    {"task_animal", [](Room& r) { r.tasks[0].animal = id<AnimalId>("corn-9"); },
     "task/filter/animal: unknown_name"},
    {"task_every_no_day", [](Room& r) { r.tasks[0].every = Duration(); },
     "task/filter/every: out_of_range"},
    {"task_every_half_day", [](Room& r) { r.tasks[0].every = Duration::hours(36); },
     "task/filter/every: out_of_range"},
    {"task_every_eleven_years", [](Room& r) { r.tasks[0].every = Duration::days(3661); },
     "task/filter/every: out_of_range"},
    {"task_every_aeon", [](Room& r) { r.tasks[0].every = Duration::days(1e12); },
     "task/filter/every: out_of_range"},
};

class CheckRoomFinds : public testing::TestWithParam<Defect> {};

TEST_P(CheckRoomFinds, TheOneDefect) {
  Room room = good_room();
  GetParam().plant(room);
  EXPECT_EQ(found(room), std::vector<std::string>{GetParam().expected});
}

INSTANTIATE_TEST_SUITE_P(Each, CheckRoomFinds, testing::ValuesIn(kDefects),
                         [](const auto& defect) { return std::string(defect.param.name); });

TEST(CheckRoom, FindsAllAtOnce) {
  Room room = good_room();
  room.info.name.clear();
  room.animals[0].count = 0;
  room.tasks[0].title.clear();
  EXPECT_EQ(found(room),
            (std::vector<std::string>{"room//name: missing", "animal/corn-1/count: out_of_range",
                                      "task/filter/title: missing"}));
}

TEST(CheckRoom, EdgesThatAreGood) {
  Room room = good_room();
  room.info.latitude_deg = -90;
  room.info.longitude_deg = 180;
  room.animals[0].count = 10'000;
  room.animals[0].marks = std::string(kLongestNote, 'x');
  room.tasks[0].every = Duration::days(3660);
  EXPECT_EQ(found(room), std::vector<std::string>{});
  room.tasks[0].every = *parse<Duration>("24h");
  EXPECT_EQ(found(room), std::vector<std::string>{});
}

}  // namespace
}  // namespace warmside::room
