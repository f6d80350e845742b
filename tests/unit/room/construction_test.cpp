// Layers of a face of an enclosure: grammar, limits, round trip.

#include "room/construction.h"

#include <gtest/gtest.h>

#include <string>

namespace warmside::room {
namespace {

Construction read(std::string_view text) {
  const auto construction = parse_construction(text);
  EXPECT_TRUE(construction.ok()) << text;
  return construction ? *construction : Construction{};
}

TEST(ParseConstruction, FromTheInsideOut) {
  EXPECT_EQ(read("glass 4mm"), (Construction{{{"glass", Length::millimetres(4)}}}));
  EXPECT_EQ(read("cork 20mm + pvc 10mm"),
            (Construction{{{"cork", Length::millimetres(20)}, {"pvc", Length::millimetres(10)}}}));
  EXPECT_EQ(read("cork bark 2cm+extruded_foam-x2 0.5in").layers,
            (std::vector<Layer>{{"cork bark", Length::centimetres(2)},
                                {"extruded_foam-x2", Length::inches(0.5)}}));
  EXPECT_EQ(read("  glass   4mm  +  air 1cm "),
            (Construction{{{"glass", Length::millimetres(4)}, {"air", Length::centimetres(1)}}}));
}

TEST(ParseConstruction, Limits) {
  const std::string longest(32, 'm');
  EXPECT_EQ(read(longest + " 1mm").layers[0].material, longest);
  EXPECT_FALSE(parse_construction(std::string(33, 'm') + " 1mm").ok());
  std::string twelve = "glass 1mm";
  for (int i = 1; i < 12; ++i) twelve += " + glass 1mm";
  EXPECT_EQ(read(twelve).layers.size(), 12u);
  EXPECT_FALSE(parse_construction(twelve + " + glass 1mm").ok());
  std::string endless;
  for (int i = 0; i < 100'000; ++i) endless += "+ glass 1mm ";
  EXPECT_FALSE(parse_construction(endless).ok());
}

TEST(ParseConstruction, Refusals) {
  for (const char* text : {"",
                           " ",
                           "+",
                           "glass",
                           "4mm",
                           " 4mm",
                           "glass 4",
                           "glass 4g",
                           "glass 4C",
                           "glass mm",
                           "glass 0mm",
                           "glass -4mm",
                           "glass nanmm",
                           "glass 1e999mm",
                           "glass 4mm +",
                           "+ glass 4mm",
                           "glass 4mm + + cork 2mm",
                           "glass 4mm, cork 2mm",
                           "Glass 4mm",
                           "PVC 10mm",
                           "gl\tass 4mm",
                           "gl\xC3\xA5ss 4mm",
                           "glass\t4mm",

                           "glass=4mm",
                           "\"glass\" 4mm"}) {
    const auto construction = parse_construction(text);
    ASSERT_FALSE(construction.ok()) << text;
    EXPECT_EQ(construction.problem().code, ProblemCode::bad_value) << text;
    EXPECT_NE(construction.problem().expected.find("glass 4mm"), std::string::npos);
  }
}

TEST(ConstructionText, ReadsBackInEitherSystem) {
  EXPECT_EQ(to_text(read("cork 20mm+glass 4mm")), to_text(read("cork 2cm + glass 0.4cm")));
  for (const char* text : {"glass 4mm", "cork 20mm + pvc 1cm", "mesh 0.031in", "oak 0.1ft + air 1m",
                           "a b-c_d 0.123456789mm"}) {
    const Construction construction = read(text);
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      EXPECT_EQ(read(to_text(construction, units)), construction) << text;
    }
  }
}

}  // namespace
}  // namespace warmside::room
