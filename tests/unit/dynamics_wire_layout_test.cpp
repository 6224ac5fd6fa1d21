#include <gtest/gtest.h>

#include <algorithm>

#include "dynamics/wire_layout.h"
#include "dynamics_sample_line.h"

/// Spans of 50 m with droppers at 5, 15, 25, 35 and 45 m; stitch wires of 14 m reach 7 m from
/// their supports, so that they carry the droppers 5 m from them.

namespace panup {

namespace {

using Places = std::vector<double>;

TEST(WireLayout, HasNodesAtSupportsDroppersAndPoints) {
  const ContactLine line = sample_line(2);
  const WireLayout layout = lay_out(line, 3);
  EXPECT_EQ(layout.supports, (Places{0, 50, 100}));
  EXPECT_EQ(layout.points, (Places{0, 25, 50, 75, 100})) << "the end of a span once";
  const Places nodes{0, 5, 15, 25, 35, 45, 50, 55, 65, 75, 85, 95, 100};
  EXPECT_EQ(layout.contact_places, nodes);
  EXPECT_EQ(layout.messenger_places, nodes);
  ASSERT_EQ(layout.droppers.size(), 10U);
  EXPECT_EQ(layout.droppers[6].span, 1);
  EXPECT_EQ(layout.droppers[6].at_m, 65);
  EXPECT_EQ(layout.droppers[6].dropper, &line.spans[1].droppers[1]);
  EXPECT_EQ(layout.droppers[6].stitch, -1);
}

TEST(WireLayout, PointsStandEvenlyInEachSpan) {
  ContactLine line = sample_line(2);
  line.spans[1].length_m = 60;
  const WireLayout layout = lay_out(line, 6);
  EXPECT_EQ(layout.points, (Places{0, 10, 20, 30, 40, 50, 62, 74, 86, 98, 110}));
  EXPECT_TRUE(std::ranges::includes(layout.contact_places, layout.points));
}

TEST(WireLayout, AStitchWireCarriesTheDroppersWithinIt) {
  ContactLine line = sample_line(3);
  add_stitch_wires(line);
  const WireLayout layout = lay_out(line, 2);
  std::vector<int> carried_by;
  for (const HungDropper& hung : layout.droppers) {
    carried_by.push_back(hung.stitch);
  }
  EXPECT_EQ(carried_by, (std::vector<int>{-1, -1, -1, -1, 1, 1, -1, -1, -1, 2, 2, -1, -1, -1, -1}));
  // The messenger wire has clamps 7 m from both supports, and no node at what they carry.
  EXPECT_EQ(layout.messenger_places, (Places{0, 5, 15, 25, 35, 43, 50, 57, 65, 75, 85, 93, 100, 107,
                                             115, 125, 135, 145, 150}));
}

TEST(WireLayout, ADropperAtTheClampItselfHangsFromTheMessengerWire) {
  ContactLine line = sample_line(3);
  add_stitch_wires(line);
  line.spans[1].droppers[0].at_m = 7;
  EXPECT_EQ(lay_out(line, 2).droppers[5].stitch, -1);
  line.spans[1].droppers[0].at_m = 6.99;
  EXPECT_EQ(lay_out(line, 2).droppers[5].stitch, 1);
}

TEST(WireLayout, NoStitchWireIsFittedAtTheLinesEnds) {
  ContactLine line = sample_line(3);
  add_stitch_wires(line);
  line.supports.front().stitch_wire = line.supports[1].stitch_wire;
  line.supports.back().stitch_wire = line.supports[1].stitch_wire;
  EXPECT_FALSE(has_stitch_wire(line, 0));
  EXPECT_TRUE(has_stitch_wire(line, 1));
  EXPECT_TRUE(has_stitch_wire(line, 2));
  EXPECT_FALSE(has_stitch_wire(line, 3));
  line.supports[2].stitch_wire.reset();
  EXPECT_FALSE(has_stitch_wire(line, 2));
  const WireLayout layout = lay_out(line, 2);
  EXPECT_EQ(layout.droppers.front().stitch, -1);
  EXPECT_EQ(layout.droppers.back().stitch, -1);
}

TEST(WireLayout, APointRightBesideANodeHasNoneOfItsOwn) {
  ContactLine line = sample_line(1);
  // Points at 0, 10, ... 50 m; droppers half a millimetre before one, behind one, and farther off.
  line.spans[0].droppers = {{.at_m = 9.9995}, {.at_m = 20.0005}, {.at_m = 30.002}};
  const WireLayout layout = lay_out(line, 6);
  EXPECT_EQ(layout.contact_places, (Places{0, 9.9995, 20.0005, 30, 30.002, 40, 50}));
  EXPECT_EQ(layout.points, (Places{0, 10, 20, 30, 40, 50}));
}

TEST(WireLayout, OfPlacesThatAreTheSameButForRoundingOneStays) {
  Places places{3, 1, 1 + 1e-9, 2, 3 - 1e-9};
  sort_places(places);
  ASSERT_EQ(places.size(), 3U);
  EXPECT_NEAR(places[0], 1, 1e-8);
  EXPECT_NEAR(places[1], 2, 1e-8);
  EXPECT_NEAR(places[2], 3, 1e-8);
}

}  // namespace

}  // namespace panup
