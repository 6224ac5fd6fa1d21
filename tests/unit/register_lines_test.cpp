#include <gtest/gtest.h>

#include "files/read_network.h"
#include "register_rows/register_to_network.h"
#include "register_sample.h"

namespace panup {
namespace {

/// Sections and separation sections on their way to a network.
struct Lines {
  RegisterRows rows{.file = "sections", .sha256 = {}, .rows = {}};
  RegisterRows separations{.file = "separations", .sha256 = {}, .rows = {}};
  LineStarts starts;
  bool no_others = false;
  std::string track;
  Diagnostics mistakes;
  Diagnostics notes;

  std::vector<ChainedLine> chain() {
    return chain_lines(sections_from(rows, {}, notes), starts, "sections", mistakes, notes);
  }
  std::optional<Network> network() {
    const auto made = network_from_register(rows, separations,
                                            {.id = "n",
                                             .name = "N",
                                             .track = track,
                                             .made_at = "now",
                                             .starts = starts,
                                             .no_other_separations = no_others},
                                            mistakes, notes);
    Diagnostics wrong;
    return made ? read_network({.file = "n", .text = made->text}, wrong) : std::nullopt;
  }
};

TEST(RegisterLines, SectionsJoinWhereOneEndsAndTheNextBegins) {
  Lines lines;
  add_section(lines.rows, "2", "b", "c", {{"lengthKm", "1.5"}});
  add_section(lines.rows, "1", "a", "b", {{"lengthKm", "2.25"}});
  add_section(lines.rows, "3", "d", "c");  // the wrong way round
  const auto chained = lines.chain();
  ASSERT_EQ(chained.size(), 1U);
  ASSERT_EQ(chained[0].sections.size(), 3U);
  EXPECT_EQ(chained[0].sections[0].section, 1U);
  EXPECT_EQ(chained[0].sections[1].from_km, 2.25);
  EXPECT_EQ(chained[0].sections[2].to_km, 8.75);
  EXPECT_TRUE(chained[0].sections[2].turned);
  EXPECT_FALSE(chained[0].start_told);
  EXPECT_TRUE(lines.notes.empty());
}

TEST(RegisterLines, RunTheWayOfMostSections) {
  Lines lines;
  add_section(lines.rows, "1", "b", "a");
  add_section(lines.rows, "2", "b", "c");
  add_section(lines.rows, "3", "c", "d");
  const auto chained = lines.chain();
  EXPECT_TRUE(chained.at(0).sections.at(0).turned);
  EXPECT_FALSE(chained[0].sections.at(2).turned);
}

TEST(RegisterLines, BeginWhereTheReaderSays) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  lines.starts = {{"7", 12.5}};
  EXPECT_EQ(lines.chain().at(0).sections.at(0).from_km, 12.5);
  EXPECT_TRUE(lines.chain().at(0).start_told);
  lines.starts = {{"8", 12.5}};
  lines.chain();
  EXPECT_TRUE(says(lines.mistakes, "--start: there is no line '8'"));
}

TEST(RegisterLines, DoNotCountBeyondWhatAFileMaySay) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  lines.starts = {{"7", 4999}};
  lines.chain();
  EXPECT_TRUE(says(lines.mistakes, "line 7 ends at km 5004; panup counts to km 5000"));
}

TEST(RegisterLines, AreCutAtForksAndGaps) {
  Lines fork;
  add_section(fork.rows, "1", "a", "b");
  add_section(fork.rows, "2", "b", "c");
  add_section(fork.rows, "3", "b", "d");
  EXPECT_EQ(fork.chain().size(), 3U);
  EXPECT_TRUE(says(fork.notes, "line 7 forks at b, where 1, 2 and 3 meet"));
  Lines gap;
  add_section(gap.rows, "1", "a", "b");
  add_section(gap.rows, "3", "c", "d");
  const auto chained = gap.chain();
  ASSERT_EQ(chained.size(), 2U);
  EXPECT_EQ(chained[1].id, "7-2");
  EXPECT_TRUE(says(gap.notes, "line 7 has a gap"));
}

TEST(RegisterLines, GoRoundInARing) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_section(lines.rows, "2", "b", "c");
  add_section(lines.rows, "3", "c", "a");
  EXPECT_EQ(lines.chain().at(0).sections.size(), 3U);
  const auto network = lines.network();
  ASSERT_TRUE(network);
  EXPECT_EQ(network->places.size(), 4U);  // where it begins and ends are two places of one line
}

TEST(RegisterLines, KeepCountingBehindSectionsOfKnownLength) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_section(lines.rows, "2", "b", "c", {{"oclType", concepts + "x/40"}});
  add_section(lines.rows, "3", "c", "d", {{"vmax", ""}});
  add_section(lines.rows, "4", "d", "e");
  add_section(lines.rows, "5", "e", "f", {{"lengthKm", ""}});
  add_section(lines.rows, "6", "f", "g");
  lines.starts = {{"7", 2}};
  const auto chained = lines.chain();
  ASSERT_EQ(chained.size(), 3U);
  EXPECT_EQ(chained[1].sections[0].from_km, 17);
  EXPECT_TRUE(chained[1].start_told);
  EXPECT_EQ(chained[2].sections[0].from_km, 0);
  EXPECT_FALSE(chained[2].start_told);
  EXPECT_TRUE(says(lines.notes, "section 3: its line speed is not known"));
  EXPECT_TRUE(says(lines.notes, "section 5: its length is not known"));
}

TEST(RegisterLines, LeaveOutWhatHasNoPlace) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b", {{"line", ""}});
  add_section(lines.rows, "2", "a", "", {});
  add_section(lines.rows, "3", "a", "a");
  EXPECT_FALSE(lines.network());
  EXPECT_TRUE(says(lines.notes, "section 1: its national line is not known"));
  EXPECT_TRUE(says(lines.notes, "section 2: an operational point at an end"));
  EXPECT_TRUE(says(lines.notes, "section 3: it begins and ends at a"));
  EXPECT_TRUE(says(lines.mistakes, "so there is no network"));
}

TEST(RegisterSeparations, AreTakenAsTheRowSays) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_separation(lines.separations, "1", "2.5");
  add_separation(lines.separations, "1", "4", {{"kind", "system"}, {"lowered", "true"}});
  add_separation(lines.separations, "1", "3", {{"change", "true"}, {"lengthIs", ""}});
  const auto network = lines.network();
  ASSERT_TRUE(network);
  const auto& found = network->lines.at(0).track.separations;
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].from_km, 2.5);
  EXPECT_EQ(found[0].length_m, 100);
  EXPECT_EQ(found[0].length_meaning, LengthMeaning::maximum_between_outer);
  EXPECT_FALSE(found[0].pantograph_lowered);
  EXPECT_EQ(found[1].kind, SeparationKind::system);  // it changes the supply
  EXPECT_EQ(found[1].length_meaning, LengthMeaning::not_stated);
  EXPECT_TRUE(found[2].pantograph_lowered);
}

TEST(RegisterSeparations, WhatIsNotStatedOfThemIsOnTheSafeSide) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_separation(lines.separations, "1", "2", {{"lowered", ""}, {"breakerOff", ""}});
  add_separation(lines.separations, "1", "3", {{"lowered", "true"}, {"breakerOff", "false"}});
  add_separation(lines.separations, "1", "4", {{"breakerOff", ""}, {"lengthIs", "about"}});
  const auto network = lines.network();
  ASSERT_TRUE(network);
  const auto& found = network->lines.at(0).track.separations;
  EXPECT_TRUE(found.at(0).pantograph_lowered && found[0].breaker_off);
  EXPECT_TRUE(found.at(1).breaker_off);
  EXPECT_TRUE(found.at(2).breaker_off);
  EXPECT_FALSE(found[2].pantograph_lowered);
  EXPECT_TRUE(says(lines.notes, "pantographs are lowered with the breaker on"));
  EXPECT_TRUE(says(lines.notes, "neither MIN nor MAX"));
}

TEST(RegisterSeparations, ThatHaveNoPlaceTakeTheSupplyFromTheirSection) {
  for (const Cells& wrong :
       {Cells{{"km", ""}}, Cells{{"km", "7"}}, Cells{{"km", "4.95"}}, Cells{{"lengthM", "0"}},
        Cells{{"lengthM", ""}, {"old", "100 x"}}, Cells{{"kind", "other"}}}) {
    Lines lines;
    add_section(lines.rows, "1", "a", "b");
    add_separation(lines.separations, "1", "2", wrong);
    const auto network = lines.network();
    ASSERT_TRUE(network);
    EXPECT_TRUE(network->lines.at(0).track.separations.empty());
    EXPECT_FALSE(network->lines[0].track.sections.at(0).supply) << wrong.begin()->second;
    EXPECT_TRUE(says(lines.notes, "the section states no 'system'"));
  }
}

TEST(RegisterSeparations, OfWhichNothingIsSaidTakeTheSupplyToo) {
  const auto supply = [](const std::string& phase, const std::string& system, bool no_others,
                         const std::string& of = ac15) {
    Lines lines;
    lines.no_others = no_others;
    add_section(lines.rows, "1", "a", "b",
                {{"hasPhase", phase}, {"hasSystem", system}, {"supply", of}});
    const auto network = lines.network();
    return network && network->lines.at(0).track.sections.at(0).supply.has_value();
  };
  EXPECT_TRUE(supply("false", "false", false));
  EXPECT_FALSE(supply("", "false", false));
  EXPECT_FALSE(supply("false", "", false));
  EXPECT_TRUE(supply("", "", true));
  EXPECT_FALSE(supply("true", "false", true));
  EXPECT_FALSE(supply("false", "true", true));
  EXPECT_TRUE(supply("", "false", false, concepts + "energy-supply-systems/DC30"));
}

TEST(RegisterSeparations, OverlappingOnesBecomeOneThatCoversBoth) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_separation(lines.separations, "1", "2");
  add_separation(lines.separations, "1", "2");
  add_separation(lines.separations, "1", "2.05", {{"lowered", "true"}});
  const auto network = lines.network();
  ASSERT_TRUE(network);
  const auto& found = network->lines.at(0).track.separations;
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].length_m, 150, 1e-6);
  EXPECT_TRUE(found[0].pantograph_lowered);
  EXPECT_EQ(found[0].length_meaning, LengthMeaning::not_stated);
  EXPECT_TRUE(says(lines.notes, "separation sections overlap from km 2.05"));
}

TEST(RegisterSeparations, SayWhereALineCouldBeginWhereTheyLieOutside) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_section(lines.rows, "2", "b", "c");
  add_separation(lines.separations, "1", "104");
  add_separation(lines.separations, "2", "106");
  lines.network();
  EXPECT_TRUE(says(lines.notes, "if it began at km 99.000 to 101.000"));
  add_separation(lines.separations, "2", "306");
  lines.network();
  EXPECT_TRUE(says(lines.notes, "there is no kilometre at which it could begin"));
}

TEST(RegisterSeparations, OfSectionsThatAreNotThereAreLeftOut) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_separation(lines.separations, "9", "2");
  EXPECT_TRUE(lines.network()->lines.at(0).track.separations.empty());
  EXPECT_TRUE(says(lines.notes, "separation section of 9: there is no such section"));
}

TEST(RegisterSeparations, CountUnlessTheyAreOfATrackThatDoesNot) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b");
  add_section(lines.rows, "1", "a", "b", {{"track", "2"}});
  add_separation(lines.separations, "1", "1");
  add_separation(lines.separations, "1", "2", {{"track", "2"}});
  add_separation(lines.separations, "1", "3", {{"track", "of another name"}});
  add_separation(lines.separations, "1", "4", {{"track", ""}});
  EXPECT_EQ(lines.network()->lines.at(0).track.separations.size(), 4U);
  lines.track = "1";
  EXPECT_EQ(lines.network()->lines.at(0).track.separations.size(), 3U);
}

TEST(RegisterSystems, MeetWithinASystemSeparationSectionOrNotAtAll) {
  Lines apart;
  add_section(apart.rows, "1", "a", "b");
  add_section(apart.rows, "2", "b", "c", {{"supply", ac25}});
  auto network = apart.network();
  ASSERT_TRUE(network);
  ASSERT_EQ(network->lines.size(), 2U);
  EXPECT_EQ(network->lines[1].id, "7.2");
  EXPECT_EQ(network->lines[1].track.sections.at(0).from_km, 5);
  EXPECT_TRUE(says(apart.notes, "no system separation section is known"));
  Lines joined = apart;
  add_separation(joined.separations, "1", "4.95", {{"kind", "system"}});
  network = joined.network();
  ASSERT_TRUE(network);
  EXPECT_EQ(network->lines.size(), 1U);
  Lines across = apart;
  add_separation(across.separations, "1", "4.95");
  network = across.network();
  ASSERT_TRUE(network);
  EXPECT_FALSE(network->lines.at(0).track.sections.at(0).supply);
  EXPECT_TRUE(says(across.notes, "lies across km"));
}

TEST(RegisterGradients, HoldToTheNextPointWithinTheirSection) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b", {{"gradient", "+1(-1) +2.0(1.5) -3(4) +9(6)"}});
  EXPECT_TRUE(lines.network()->lines.at(0).track.gradients.empty())
      << "nobody said where it begins";
  EXPECT_TRUE(says(lines.notes, "gradients are left out"));
  lines.starts = {{"7", 0}};
  const auto network = lines.network();
  ASSERT_TRUE(network);
  const auto& found = network->lines.at(0).track.gradients;
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].from_km, 0);
  EXPECT_EQ(found[1].from_km, 1.5);
  EXPECT_EQ(found[1].to_km, 4);
  EXPECT_EQ(found[2].permille, -3);
  EXPECT_EQ(found[2].to_km, 5);
}

TEST(RegisterPlaces, JoinTheLinesThatMeetThere) {
  Lines lines;
  add_section(lines.rows, "1", "a", "b", {{"opEndName", "Bee"}});
  add_section(lines.rows, "2", "b", "c", {{"line", "8"}});
  const auto network = lines.network();
  ASSERT_TRUE(network);
  const NetworkPlace* const b = place_of(*network, "b");
  ASSERT_NE(b, nullptr);
  EXPECT_EQ(b->name, "Bee");
  EXPECT_EQ(km_on(*b, "7"), 5);
  EXPECT_EQ(km_on(*b, "8"), 0);
}

}  // namespace
}  // namespace panup
