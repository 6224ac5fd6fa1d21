#include <gtest/gtest.h>

#include "sample_case.h"

/// What the mechanics says of the speed, from answers that the test gives. Computed evidence never
/// lifts a record of the infrastructure manager, and is no consent.

namespace panup {

namespace {

class GivenAnswer : public ComputedSpeeds {
 public:
  std::optional<ComputedSpeed> answer;
  bool for_spacing = false;
  double asked_to_kmh = 0;

  const ComputedSpeed* speed_of(const JudgedCase& /*judged*/, double to_kmh,
                                bool /*wanted*/) override {
    asked_to_kmh = to_kmh;
    ++asked;
    return answer ? &*answer : nullptr;
  }
  bool stands_in_for_spacing(const JudgedCase& /*judged*/) const override { return for_spacing; }

  int asked = 0;
};

struct ComputedSpeedTest : testing::Test {
  SampleCase sample;
  GivenAnswer mechanics;

  ComputedSpeedTest() {
    sample.add(SampleCase::locomotive()).add(SampleCase::locomotive());
    sample.computed_speeds = &mechanics;
  }
  static ComputedSpeed passes(double to_kmh) {
    ComputedSpeed speed;
    speed.known = true;
    speed.speed_kmh = to_kmh;
    speed.looked_to_kmh = to_kmh;
    speed.margin = 0.12;
    speed.criterion = "force-deviation";
    speed.pantograph = 2;
    return speed;
  }
  static ComputedSpeed fails(double above_kmh, double at_kmh, double looked_to_kmh) {
    ComputedSpeed speed = passes(looked_to_kmh);
    speed.speed_kmh = above_kmh;
    speed.fails_at_kmh = at_kmh;
    speed.text = "the deviation is 40 N of 120 N";
    return speed;
  }
  std::string says(const std::string& raised) const {
    return sample.with(raised).of("speed-by-mechanics");
  }
};

TEST_F(ComputedSpeedTest, WhereAllPassesTheLeastMarginIsANote) {
  sample.section.records = {{2, 20, 120}};
  mechanics.answer = passes(120);
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.of("speed-by-mechanics"),
            "note: By the mechanics, 2 raised, 29.0 m apart: every speed computed up to 120 km/h "
            "passes; the least margin is 12 % (pantograph 2.2, force-deviation).");
  EXPECT_EQ(said.verdict.speed_kmh, 120);
  EXPECT_EQ(mechanics.asked_to_kmh, 120) << "as fast as all other rules let the train run";
}

TEST_F(ComputedSpeedTest, DistancesAreThoseBetweenNeighbours) {
  mechanics.answer = passes(120);
  sample.section.records = {{3, 5, 120}};
  EXPECT_EQ(says("1.1 1.2 2.2"),
            "note: By the mechanics, 3 raised, 10.0 and 19.0 m apart: every speed computed up to "
            "120 km/h passes; the least margin is 12 % (pantograph 1.2, force-deviation).");
  mechanics.answer->pantograph = 1;
  EXPECT_EQ(says("1.2"),
            "note: By the mechanics, one raised: every speed computed up to 120 km/h passes; the "
            "least margin is 12 % (pantograph 1.2, force-deviation).");
  mechanics.answer->pantograph = 0;
  EXPECT_EQ(says("1.2"),
            "note: By the mechanics, one raised: every speed computed up to 120 km/h passes; the "
            "least margin is 12 % (force-deviation).")
      << "it is the line that decides";
}

TEST_F(ComputedSpeedTest, TablesThatAskForLessAreSaidToBeMoreCautious) {
  sample.section.records = {{2, 20, 90}};
  mechanics.answer = passes(120);
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.of("speed-by-mechanics"),
            "note: By the mechanics, 2 raised, 29.0 m apart: every speed computed up to 120 km/h "
            "passes; the least margin is 12 % (pantograph 2.2, force-deviation). The 90 km/h of "
            "line-record are more cautious than these criteria need.");
  EXPECT_EQ(said.verdict.speed_kmh, 90) << "evidence lifts no record";
}

TEST_F(ComputedSpeedTest, EvidenceIsNoConsent) {
  sample.section.design_type.reset();
  mechanics.answer = passes(120);
  const std::string evidence =
      " That is evidence to put to the infrastructure manager, and no consent.";
  EXPECT_EQ(says("1.1 2.2"),
            "note: By the mechanics, 2 raised, 29.0 m apart: every speed computed up to 120 km/h "
            "passes; the least margin is 12 % (pantograph 2.2, force-deviation)." +
                evidence);
  EXPECT_TRUE(sample.with("1.1 2.2").verdict.consent_needed);
  mechanics.answer = fails(100, 101, 120);
  EXPECT_EQ(says("1.1 2.2"),
            "speed limit: By the mechanics, 2 raised, 29.0 m apart: 100 km/h. What decides: at 101 "
            "km/h pantograph 2.2, the deviation is 40 N of 120 N (force-deviation)." +
                evidence);
}

TEST_F(ComputedSpeedTest, AFailingSpeedLimitsTheTrainBelowIt) {
  sample.section.records = {{2, 20, 110}};
  mechanics.answer = fails(95, 96, 120);
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.verdict.speed_kmh, 95);
  EXPECT_EQ(said.verdict.speed_rule->id, "speed-by-mechanics");
  EXPECT_EQ(said.verdict.other_speed_kmh, 95);
  EXPECT_EQ(said.of("speed-by-mechanics"),
            "speed limit: By the mechanics, 2 raised, 29.0 m apart: 95 km/h. What decides: at 96 "
            "km/h pantograph 2.2, the deviation is 40 N of 120 N (force-deviation). The 110 km/h "
            "of line-record, 15 km/h more, are not supported by the mechanics.");
  EXPECT_EQ(said.first("speed-by-mechanics").reason,
            "By the mechanics, 2 raised, 29.0 m apart: 95 km/h");
}

TEST_F(ComputedSpeedTest, ItIsSaidAlsoWhereTablesDecide) {
  sample.section.records = {{2, 20, 80}};
  mechanics.answer = fails(95, 96, 120);
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.verdict.speed_kmh, 80);
  EXPECT_EQ(said.of("speed-by-mechanics"),
            "speed limit: By the mechanics, 2 raised, 29.0 m apart: 95 km/h. What decides: at 96 "
            "km/h pantograph 2.2, the deviation is 40 N of 120 N (force-deviation). The 80 km/h of "
            "line-record are more cautious than these criteria need.");
}

TEST_F(ComputedSpeedTest, OfSpeedsThatWereNotLookedAtNothingIsSaid) {
  sample.section.records = {{2, 20, 140}};
  mechanics.answer = fails(95, 96, 120);
  EXPECT_EQ(says("1.1 2.2"),
            "speed limit: By the mechanics, 2 raised, 29.0 m apart: 95 km/h. What decides: at 96 "
            "km/h pantograph 2.2, the deviation is 40 N of 120 N (force-deviation).");
  sample.section.records = {{2, 20, 120}};
  EXPECT_NE(says("1.1 2.2").find("25 km/h more"), std::string::npos);
}

TEST_F(ComputedSpeedTest, WhereTheLowestSpeedFailsItIsForbidden) {
  mechanics.answer = fails(0, 60, 120);
  const Said said = sample.with("1.1 2.2");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("speed-by-mechanics"),
            "forbidden: By the mechanics, 2 raised, 29.0 m apart: at 60 km/h pantograph 2.2, the "
            "deviation is 40 N of 120 N (force-deviation); no speed below it was computed.");
}

TEST_F(ComputedSpeedTest, AnAnswerThatIsNotKnownIsSaidAndDecidesNothing) {
  mechanics.answer = ComputedSpeed{};
  mechanics.answer->unknown = "the section names no contact line";
  EXPECT_EQ(says("1.1 2.2"),
            "note: The mechanics has no answer: the section names no contact line.");
  EXPECT_EQ(sample.with("1.1 2.2").verdict.other_speed_kmh, 120);
  mechanics.answer.reset();
  EXPECT_EQ(says("1.1 2.2"), "");
}

TEST_F(ComputedSpeedTest, IceIsNotInTheMechanics) {
  sample.iced = true;
  mechanics.answer = fails(50, 51, 120);
  EXPECT_EQ(says("1.1 2.2"),
            "note: The mechanics was not asked: how much ice the wire carries is not known.");
  EXPECT_EQ(mechanics.asked, 0);
}

TEST_F(ComputedSpeedTest, ItIsNotAskedWhereThereIsNothingToAnswer) {
  mechanics.answer = passes(120);
  sample.failed = {{.vehicle = 1, .pantograph = 1}};
  EXPECT_EQ(says("1.1 2.2"), "") << "it is forbidden anyway";
  EXPECT_EQ(mechanics.asked, 0);
  sample.failed = {};
  sample.rule("put-dead").on = false;
  EXPECT_EQ(says(""), "");
  EXPECT_EQ(mechanics.asked, 0);
  sample.computed_speeds = nullptr;
  EXPECT_EQ(says("1.1 2.2"), "");
}

TEST_F(ComputedSpeedTest, WhereItStandsInForTablesTheyAreOnlySaid) {
  sample.section.records = {{2, 20, 90}};
  mechanics.answer = passes(120);
  mechanics.for_spacing = true;
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.verdict.speed_kmh, 120);
  EXPECT_EQ(said.verdict.spacing_speed_kmh, 90);
  EXPECT_EQ(
      said.of("line-record"),
      "note: 2 raised, 29.0 m apart at the closest: the section's record permits 2 at 20 m "
      "and 90 km/h.\n"
      "consent needed: 1.1 and 2.2 up: 120 km/h by the mechanics, 90 km/h permitted. The run "
      "is evidence to put to the infrastructure manager, and no permission: more than 90 km/h "
      "only with consent.");
  EXPECT_TRUE(said.verdict.above_record);
  EXPECT_FALSE(said.verdict.consent_needed) << "at 90 km/h it runs without";
}

TEST_F(ComputedSpeedTest, TablesThatSayTheSameNeedNoWords) {
  sample.section.records = {{2, 20, 95}};
  mechanics.answer = fails(95, 96, 120);
  EXPECT_EQ(says("1.1 2.2"),
            "speed limit: By the mechanics, 2 raised, 29.0 m apart: 95 km/h. What decides: at 96 "
            "km/h pantograph 2.2, the deviation is 40 N of 120 N (force-deviation).");
}

TEST_F(ComputedSpeedTest, ItIsNotAskedOfATrainThatIsDeadNorOnAnUnknownSystem) {
  mechanics.answer = passes(120);
  sample.vehicle(1).dead_in_tow = true;
  sample.vehicle(2).dead_in_tow = true;
  EXPECT_EQ(says(""), "");
  sample.vehicle(1).dead_in_tow = false;
  sample.only({"speed-by-mechanics"});
  sample.section.supply.reset();
  EXPECT_EQ(says("1.1"), "");
  EXPECT_EQ(mechanics.asked, 0);
}

}  // namespace

}  // namespace panup
