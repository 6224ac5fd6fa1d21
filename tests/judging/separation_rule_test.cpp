#include "judging/separation_rule.h"

#include <gtest/gtest.h>

#include "judging/separation_moment.h"
#include "row.h"
#include "sample_case.h"

/// What the rules on separation sections say of a train that stands over one. Source: reasoning
/// from what the strips touch; register for lengths; arrangements of EN 50367, annex A, from
/// memory.
///
/// The unit has pantographs 15 and 60 m behind its front, 45 m apart, with strips of 0.6 m: outer
/// strips 45.6 m apart, inner ones 44.4 m.

namespace panup {

namespace {

struct SeparationRuleTest : testing::Test {
  SampleCase sample;
  std::shared_ptr<PantographType> head = SampleCase::pantograph();
  std::shared_ptr<VehicleType> unit = SampleCase::locomotive(head, head);
  SeparationSection section;

  SeparationRuleTest() {
    head->strip_length_along_track_mm = 600;
    unit->kind = VehicleKind::electric_unit;
    unit->length_m = 75;
    unit->pantographs[0].from_cab1_m = 15;
    unit->pantographs[1].from_cab1_m = 60;
    sample.add(unit);
    sample.section.records = {{4, 5, 120}};
    section.name = "Fen";
    section.from_km = 12;
    section.length_m = 40;
    sample.separations = {&section};
  }
  void zones(double neutral_m) {
    section.zones = Row().before("R", 0).neutral(0, neutral_m).behind("S", neutral_m).zones;
  }
  void joined(bool can_be_opened = false) {
    unit->roof_line = true;
    unit->roof_line_can_be_opened = can_be_opened;
  }
  std::string says(const std::string& rule, const std::string& raised = "1.1 1.2") const {
    return sample.with(raised).of(rule);
  }
};

constexpr const char* open_breaker =
    " The main circuit breaker has to be open from before the section until the last one is "
    "through.";

TEST_F(SeparationRuleTest, ARoofLineLongerThanTheNeutralZoneJoinsThePhases) {
  zones(40);
  joined();
  // The front head reaches S at 40 m with the front at 40 + 15 - 0.3; the rear one leaves R at 0
  // with it at 60 + 0.3.
  const Said said = sample.with("1.1 1.2");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("zones-joined"),
            "forbidden: Fen at km 12: with 1.1 and 1.2 up the train joins phase R with phase S "
            "through 1.2, the roof line of unit 1 and 1.1, while its front is from km 12.055 to "
            "12.060. It passes if 1.1 is lowered, or if 1.2 is lowered.");
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
}

TEST_F(SeparationRuleTest, OpeningTheRoofLineIsNamedWhereItCanBeDone) {
  zones(40);
  joined(true);
  EXPECT_TRUE(
      says("zones-joined")
          .ends_with(
              "It passes if the roof line of unit 1 is opened, or if 1.1 is lowered, or if 1.2 is "
              "lowered."));
}

TEST_F(SeparationRuleTest, APassageSaysHowCloselyItIsOne) {
  zones(101);
  joined();
  // It is nearest with the heads' middle in the zone's: (15 + 60) / 2 + 50.5 = 88 m. Of 101 m, 45 m
  // between the heads and 0.6 m of strips leave 55.4 m, half of it at either end. With strips that
  // long both heads are on the neutral zone too.
  const std::string text =
      "note: Fen at km 12: 1.1 and 1.2 may stay up; the train joins no live zone with another or "
      "with earth. It comes nearest to it with its front at km 12.088: contact strips that reached "
      "27.70 m further, ahead and behind, would mean that it joins phase R with phase S through "
      "1.2, the neutral zone and 1.1.";
  EXPECT_EQ(says("zones-joined"), text + open_breaker);
  section.breaker_off = false;
  EXPECT_EQ(says("zones-joined"), text);
}

TEST_F(SeparationRuleTest, WhatIsSaidOfOneConfigurationIsNotSaidOfAnother) {
  zones(100);
  const Judge judge = sample.judge();
  Ground ground = judge.ground(sample.section, false);
  ground.separations = {&section};
  for (int twice = 0; twice < 2; ++twice) {
    for (const auto& [raised, name] :
         std::vector<std::pair<PantographSet, std::string>>{{{0}, "1.1"}, {{1}, "1.2"}}) {
      Said said;
      said.verdict = judge.judge(ground, raised, {}, &said.findings);
      EXPECT_TRUE(
          said.of("zones-joined").starts_with("note: Fen at km 12: " + name + " may stay up"));
    }
  }
}

TEST_F(SeparationRuleTest, AJoinAtOnePlaceOnlyAndJoinsThatComeAgainAreSaidSo) {
  // Strips of just the insulator's length touch both sides for a moment, one head after the other.
  section.zones = Row().before("R", 0).insulator(0, 0.6).behind("S", 0.6).zones;
  EXPECT_TRUE(
      says("zones-joined")
          .starts_with("forbidden: Fen at km 12: with 1.1 and 1.2 up the train joins phase R with "
                       "phase S through 1.1, while its front is at km 12.015; and once more like "
                       "it. It passes only with pantographs lowered"));
  sample.add(unit);
  EXPECT_NE(says("zones-joined", "1.1 1.2 2.1").find("; and 2 times more like it. "),
            std::string::npos);
  EXPECT_NE(says("zones-joined", "1.2 ").find("is at km 12.060. It"), std::string::npos);
}

TEST_F(SeparationRuleTest, APantographOnASystemItIsNotForIsForbidden) {
  section.kind = SeparationKind::system;
  section.zones =
      Row().before(EnergySupply::ac_15kv, 0).neutral(0, 30).behind(EnergySupply::dc_3kv, 30).zones;
  // Between its first and its last strip at the zone: 30 + 15 m, less and more 0.3 m.
  EXPECT_TRUE(says("zones-joined", "1.1")
                  .starts_with("forbidden: Fen at km 12: with 1.1 up the train puts 1.1 on DC 3 "
                               "kV, which it is not for, while its front is at km 12.045."));
}

TEST_F(SeparationRuleTest, StripsThatNobodyStatesAreAssumedToReachFar) {
  head->strip_length_along_track_mm.reset();
  zones(100);
  EXPECT_TRUE(says("zones-joined")
                  .ends_with(std::string(open_breaker) +
                             " Not stated: how far contact strips reach along "
                             "the track (1.1, 1.2); 0.8 m is assumed."));
  EXPECT_DOUBLE_EQ(strips_not_stated_m(sample.book), 0.8);
  sample.rule("zones-joined").on = false;
  EXPECT_DOUBLE_EQ(strips_not_stated_m(sample.book), 0.8) << "also where the rule is off";
  sample.only({"line-speed"});
  EXPECT_EQ(strips_not_stated_m(sample.book), 0);
}

TEST_F(SeparationRuleTest, TheBreakerIsOpenOnlyWhereTheSectionAsksForIt) {
  zones(100);
  section.breaker_off = false;
  EXPECT_FALSE(sample.with("1.1 1.2").verdict.forbidden);
}

/// Two locomotives of which nobody says whether a high-voltage line joins them: heads 15 m and 90
/// m behind the front.
struct PossibleLineTest : SeparationRuleTest {
  PossibleLineTest() {
    unit->high_voltage_coupler.reset();
    sample.add(unit);
  }
};

constexpr const char* how_to_state =
    " State it in the train file, or that the vehicle types have no high-voltage coupler.";

TEST_F(PossibleLineTest, ThatWouldMatterNeedsConsent) {
  zones(40);
  const Said said = sample.with("1.1 2.1");
  EXPECT_FALSE(said.verdict.forbidden);
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_EQ(said.of("zones-joined"), "");
  EXPECT_EQ(said.of("separation-unknown"),
            "consent needed: Fen at km 12: whether 1.1 and 2.1 may be up together is not known. "
            "Whether there is a high-voltage line between vehicles 1 and 2 is not stated; with it "
            "the train joins phase R with phase S through 2.1, a high-voltage line between "
            "vehicles 1 and 2 and 1.1." +
                std::string(how_to_state));
}

TEST_F(PossibleLineTest, IsNotAskedForWhereItWouldNotMatter) {
  zones(200);
  const Said said = sample.with("1.1 2.1");
  EXPECT_FALSE(said.verdict.consent_needed);
  EXPECT_EQ(said.of("separation-unknown"), "");
  EXPECT_NE(said.of("zones-joined")
                .find(" The same holds with a high-voltage line between vehicles 1 and 2; whether "
                      "there is one is not stated."),
            std::string::npos);
}

TEST_F(PossibleLineTest, IsPassedOverWhereAConsentNamesTheRule) {
  zones(40);
  Consent consent;
  consent.reference = "NV-2";
  consent.given_by = "Nordvale Infrastructure";
  consent.rule = "separation-unknown";
  sample.train.consents = {consent};
  const Said said = sample.with("1.1 2.1");
  EXPECT_FALSE(said.verdict.consent_needed);
  EXPECT_EQ(said.first("separation-unknown").strength, Strength::note);
  EXPECT_TRUE(said.of("separation-unknown")
                  .ends_with(" Consent NV-2 of Nordvale Infrastructure covers it."));
  EXPECT_EQ(said.first("separation-unknown").rests_on,
            (ConsentNamed{"NV-2", "Nordvale Infrastructure"}));
  sample.train.consents.front().rule = "coasting";
  EXPECT_TRUE(sample.with("1.1 2.1").verdict.consent_needed) << "it is for another rule";
  sample.train.consents.front().rule = "separation-unknown";
  sample.train.consents.front().sections = {"elsewhere"};
  EXPECT_TRUE(sample.with("1.1 2.1").verdict.consent_needed) << "it is for another section";
  sample.train.consents.front().sections = {};
  sample.train.consents.insert(sample.train.consents.begin(), consent);
  sample.train.consents.front().rule = "coasting";
  EXPECT_FALSE(sample.with("1.1 2.1").verdict.consent_needed) << "the second one is";
}

TEST_F(PossibleLineTest, IsForbiddenWhereTheBookSaysSo) {
  zones(40);
  sample.rule("separation-unknown").strength = Strength::forbidden;
  EXPECT_TRUE(sample.with("1.1 2.1").verdict.forbidden);
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
}

TEST_F(PossibleLineTest, DoesNotHideAKnownJoin) {
  zones(40);
  joined();
  const Said said = sample.with("1.1 1.2 2.1");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("separation-unknown"), "") << "it is forbidden with or without the line";
  EXPECT_NE(said.of("zones-joined").find("through 1.2, the roof line of unit 1 and 1.1"),
            std::string::npos);
}

TEST_F(PossibleLineTest, AlsoDecidesByTheLength) {
  section.length_meaning = LengthMeaning::minimum_between_inner;
  const Said said = sample.with("1.1 2.1");
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_EQ(said.of("separation-unknown"),
            "consent needed: Fen at km 12: whether 1.1 and 2.1 may be up together is not known. "
            "Whether there is a high-voltage line between vehicles 1 and 2 is not stated; with it "
            "one is on the wire before the section while the other is on that behind it." +
                std::string(how_to_state));
  EXPECT_EQ(said.of("separation-length"), "");
}

TEST_F(SeparationRuleTest, AMaximumBetweenOuterStripsIsKeptTo) {
  section.length_meaning = LengthMeaning::maximum_between_outer;
  section.length_m = 46;
  EXPECT_EQ(says("separation-length"),
            "note: Fen at km 12: 1.1 and 1.2 up, 45.60 m between outer strips; permitted: less "
            "than 46 m." +
                std::string(open_breaker));
  section.length_m = 45.6;
  EXPECT_EQ(says("separation-length"),
            "forbidden: Fen at km 12: 1.1 and 1.2 up, 45.60 m between outer strips; it has to be "
            "less than 45.6 m. It passes if 1.1 is lowered, or if 1.2 is lowered.");
  EXPECT_TRUE(sample.with("1.1 1.2").verdict.forbidden);
}

TEST_F(SeparationRuleTest, AMinimumBetweenInnerStripsIsKeptTo) {
  section.length_meaning = LengthMeaning::minimum_between_inner;
  section.length_m = 44;
  EXPECT_EQ(says("separation-length"),
            "note: Fen at km 12: 1.1 and 1.2 up, 44.40 m between inner strips; permitted: more "
            "than 44 m." +
                std::string(open_breaker));
  section.length_m = 44.4;
  EXPECT_EQ(says("separation-length"),
            "forbidden: Fen at km 12: 1.1 and 1.2 up, 44.40 m between inner strips; it has to be "
            "more than 44.4 m. It passes if 1.1 is lowered, or if 1.2 is lowered.");
  section.length_m = 40;
  joined();
  EXPECT_EQ(says("separation-length"),
            "forbidden: Fen at km 12: 1.1 and 1.2 up are joined by the roof line of unit 1; in a "
            "section with a minimum between inner strips, 40 m, one is on the wire before it while "
            "the other is on that behind it. It passes if 1.1 is lowered, or if 1.2 is lowered.");
}

TEST_F(SeparationRuleTest, OneAlonePassesUnlessItsStripsReachOver) {
  section.length_meaning = LengthMeaning::minimum_between_inner;
  EXPECT_EQ(says("separation-length", "1.1"),
            "note: Fen at km 12: 1.1 alone is up; that the section lets a single one pass is taken "
            "for granted, for its zones are not stated." +
                std::string(open_breaker));
  section.length_m = 0.6;
  const std::string only =
      " It passes only with pantographs lowered: all of them, or more than a few steps could "
      "name.";
  EXPECT_EQ(says("separation-length", "1.1"),
            "forbidden: Fen at km 12: 1.1 alone is up; its strips reach over the section's 0.6 "
            "m." +
                only);
  section.length_meaning = LengthMeaning::not_stated;
  EXPECT_EQ(says("separation-length", "1.1"),
            "forbidden: Fen at km 12: strips of 1.1 reach over the section's 0.6 m." + only);
  section.length_m = 40;
  EXPECT_EQ(says("separation-length", "1.1"),
            "note: Fen at km 12: 1.1 alone is up; that the section lets a single one pass is taken "
            "for granted, because its zones are not stated." +
                std::string(open_breaker));
}

TEST_F(SeparationRuleTest, WithNeitherZonesNorMeaningSeveralNeedConsent) {
  head->strip_length_along_track_mm.reset();
  const Said said = sample.with("1.1 1.2");
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_EQ(said.of("separation-unknown"),
            "consent needed: Fen at km 12: whether 1.1 and 1.2 may be up together is not known. "
            "The section's 40 m are stated neither as a maximum between outer strips nor as a "
            "minimum between inner ones, and its zones are not stated: ask the infrastructure "
            "manager for them. Not stated: how far contact strips reach along the track (1.1, "
            "1.2); 0.8 m is assumed.");
  EXPECT_EQ(sample.with("1.1").of("separation-unknown"), "");
  zones(100);
  EXPECT_FALSE(sample.with("1.1 1.2").verdict.consent_needed) << "zones answer";
  EXPECT_EQ(sample.with("1.1 1.2").of("separation-length"), "");
  sample.rule("zones-joined").on = false;
  EXPECT_TRUE(sample.with("1.1 1.2").verdict.consent_needed) << "nobody asks the zones";
}

TEST_F(SeparationRuleTest, ZonesDoNotReplaceAStatedLength) {
  zones(100);
  section.length_meaning = LengthMeaning::maximum_between_outer;
  EXPECT_TRUE(says("separation-length").starts_with("forbidden: "));
}

TEST_F(SeparationRuleTest, NothingUpPassesEverywhere) {
  sample.rule("put-dead").on = false;
  zones(40);
  EXPECT_EQ(says("zones-joined", ""), "");
  EXPECT_EQ(says("separation-length", ""), "");
  EXPECT_EQ(says("separation-unknown", ""), "");
}

TEST_F(SeparationRuleTest, TheMomentOfAForbiddenPassageIsWhereItBegins) {
  zones(40);
  joined();
  Route route;
  route.separations = {SeparationSection{}, section};
  const Judge judge = sample.judge();
  const SeparationMoment moment = separation_moment(sample.book, route, 1, judge.train(), {0, 1});
  EXPECT_EQ(moment.separation, 1U);
  ASSERT_EQ(moment.raised.collectors.size(), 2U);
  ASSERT_EQ(moment.raised.joins.size(), 1U);
  ASSERT_TRUE(moment.moment);
  EXPECT_NEAR(moment.moment->front_m, 40 + 15 - 0.3, 1e-9);
  EXPECT_EQ(moment.moment->reserve_m, 0);
  // At that moment the front head is on the neutral zone and S, the rear one still on R.
  EXPECT_EQ(moment.stage.touched, (std::vector<std::vector<std::size_t>>{{1, 2}, {0}}));
  ASSERT_EQ(moment.swept.forbidden.size(), 1U);
  ASSERT_EQ(moment.known_forbidden.size(), 1U);
  EXPECT_NEAR(moment.known_forbidden[0].to_m, 60.3, 1e-9);
}

TEST_F(SeparationRuleTest, TheMomentOfAPassageLiesWithinItsStage) {
  zones(100);
  joined();
  Route route;
  route.separations = {section};
  const Judge judge = sample.judge();
  const SeparationMoment moment = separation_moment(sample.book, route, 0, judge.train(), {0, 1});
  ASSERT_TRUE(moment.moment);
  EXPECT_NEAR(moment.moment->reserve_m, 27.2, 1e-5);
  EXPECT_EQ(moment.stage.touched, (std::vector<std::vector<std::size_t>>{{1}, {1}}));
  EXPECT_LT(moment.stage.from_m, moment.moment->front_m);
  EXPECT_GT(moment.stage.to_m, moment.moment->front_m);
  EXPECT_TRUE(moment.known_forbidden.empty());
}

TEST_F(PossibleLineTest, WhatIsForbiddenOnlyWithItIsKeptApart) {
  zones(40);
  Route route;
  route.separations = {section};
  const Judge judge = sample.judge();
  const SeparationMoment possible = separation_moment(sample.book, route, 0, judge.train(), {0, 2});
  EXPECT_FALSE(possible.swept.forbidden.empty());
  EXPECT_TRUE(possible.known_forbidden.empty());
  joined();
  const SeparationMoment known = separation_moment(sample.book, route, 0, judge.train(), {0, 1, 2});
  EXPECT_FALSE(known.known_forbidden.empty());
}

TEST_F(SeparationRuleTest, WhereAllZonesAreOfOnePhaseNoMomentDecides) {
  section.zones = Row().before("R", 0).neutral(0, 40).behind("R", 40).zones;
  Route route;
  route.separations = {section};
  const Judge judge = sample.judge();
  const SeparationMoment moment = separation_moment(sample.book, route, 0, judge.train(), {0, 1});
  EXPECT_FALSE(moment.moment);
  EXPECT_TRUE(moment.stage.touched.empty());
  EXPECT_FALSE(moment.swept.stages.empty());
  EXPECT_EQ(says("zones-joined"),
            "note: Fen at km 12: 1.1 and 1.2 may stay up; the train joins no live zone with "
            "another or with earth." +
                std::string(open_breaker));
}

TEST_F(SeparationRuleTest, TheMomentOfATouchIsThatAtWhichBothSidesAreTouched) {
  section.zones = Row().before("R", 0).insulator(0, 0.6).behind("S", 0.6).zones;
  Route route;
  route.separations = {section};
  const Judge judge = sample.judge();
  const SeparationMoment moment = separation_moment(sample.book, route, 0, judge.train(), {0});
  ASSERT_TRUE(moment.moment);
  EXPECT_NEAR(moment.moment->front_m, 15.3, 1e-9);
  EXPECT_EQ(moment.stage.touched, (std::vector<std::vector<std::size_t>>{{0, 2}}));
}

TEST_F(SeparationRuleTest, NobodyAsksForZonesThatAreNotStated) {
  EXPECT_EQ(says("zones-joined"), "");
  EXPECT_EQ(says("zones-joined", "1.1"), "");
}

TEST_F(SeparationRuleTest, OnlyStripsThatNobodyStatesAreAssumed) {
  auto other = SampleCase::pantograph();
  unit->pantographs[1].type = other;
  zones(100);
  EXPECT_TRUE(says("zones-joined")
                  .ends_with(" Not stated: how far contact strips reach along the track (1.2); 0.8 "
                             "m is assumed."));
}

}  // namespace

}  // namespace panup
