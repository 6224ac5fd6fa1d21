#include <gtest/gtest.h>

#include "sample_case.h"

/// Number of raised pantographs, distance between them, and the speed that follows. Source:
/// infrastructure register for records; Regulation (EU) No 1301/2014, table 4.2.13, from memory,
/// for design types. Distances between the sample's pantographs: 10 m on one locomotive; of two
/// locomotives 9 m from rear to front, 19 m from front to front, 29 m from front to rear.

namespace panup {

namespace {

struct SpacingTest : testing::Test {
  SampleCase sample;

  SpacingTest() {
    sample.add(SampleCase::locomotive()).add(SampleCase::locomotive());
    sample.section.line_speed_kmh = 200;
    for (int number = 1; number <= 2; ++number) {
      auto type = SampleCase::locomotive();
      type->highest_speed_kmh = 300;
      sample.vehicle(number).type = type;
    }
  }
  double speed(const std::string& raised) const {
    return sample.with(raised).verdict.spacing_speed_kmh;
  }
  Consent& consent(int number, double distance_m, double speed_kmh) {
    Consent given;
    given.reference = "NV-1";
    given.given_by = "Nordvale Infrastructure";
    given.number = number;
    given.distance_m = distance_m;
    given.speed_kmh = speed_kmh;
    return sample.train.consents.emplace_back(given);
  }
};

constexpr double unlimited = std::numeric_limits<double>::infinity();

TEST_F(SpacingTest, TheFastestRecordThatCoversNumberAndDistanceGivesTheSpeed) {
  sample.section.records = {{2, 15, 80}, {2, 20, 100}, {3, 8, 60}};
  EXPECT_EQ(speed("1.1 2.2"), 100);
  EXPECT_EQ(speed("1.1 2.1"), 80);
  EXPECT_EQ(speed("1.2 2.1"), 60) << "a record of three covers two";
  EXPECT_EQ(speed("1.1 1.2 2.2"), 60);
  EXPECT_EQ(sample.with("1.1 2.2").of("line-record"),
            "speed limit: 2 raised, 29.0 m apart at the closest: the section's record permits 2 "
            "at 20 m and 100 km/h.");
  EXPECT_EQ(sample.with("1.1 1.2 2.2").of("line-record"),
            "speed limit: 3 raised, 10.0 m apart at the closest: the section's record permits 3 "
            "at 8 m and 60 km/h.");
  EXPECT_EQ(sample.with("1.1 2.2").of("design-spacing"), "") << "records go before";
}

TEST_F(SpacingTest, OfEquallyFastRecordsTheFirstIsNamed) {
  sample.section.records = {{2, 15, 80}, {2, 10, 80}};
  EXPECT_EQ(sample.with("1.1 2.1").of("line-record"),
            "speed limit: 2 raised, 19.0 m apart at the closest: the section's record permits 2 "
            "at 15 m and 80 km/h.");
}

TEST_F(SpacingTest, ADistanceThatJustReachesTheRecordsIsMet) {
  auto type = SampleCase::locomotive();
  type->pantographs[0].from_cab1_m = 4.6;
  type->pantographs[1].from_cab1_m = 14.7;
  sample.vehicle(1).type = type;
  sample.section.records = {{2, 10.1, 90}};
  EXPECT_EQ(speed("1.1 1.2"), 90) << "14.7 - 4.6 is less than 10.1 in binary fractions";
  sample.section.records = {{2, 10.11, 90}};
  EXPECT_TRUE(sample.with("1.1 1.2").verdict.forbidden);
}

TEST_F(SpacingTest, WhatNoRecordCoversIsForbidden) {
  sample.section.records = {{1, 0, 120}, {2, 15, 80}, {3, 12, 60}, {3, 11, 50}};
  const Said close = sample.with("1.1 1.2 2.2");
  EXPECT_TRUE(close.verdict.forbidden);
  EXPECT_EQ(close.of("line-record"),
            "forbidden: 3 raised, 10.0 m apart at the closest; the section's records ask for 11 m "
            "at least.");
  EXPECT_EQ(sample.with("1.1 1.2 2.1 2.2").of("line-record"),
            "forbidden: 4 pantographs raised; the section permits at most 3.");
  sample.section.records = {{1, 0, 120}};
  EXPECT_EQ(sample.with("1.1 2.2").of("line-record"),
            "forbidden: 2 pantographs raised; the section permits at most 1.");
}

TEST_F(SpacingTest, OneAloneIsHeldAgainstRecordsOfOne) {
  sample.section.records = {{1, 0, 110}, {2, 15, 80}};
  const Said said = sample.with("1.1");
  EXPECT_EQ(said.verdict.spacing_speed_kmh, 110);
  EXPECT_EQ(said.of("line-record"),
            "speed limit: The section's record permits one raised pantograph at 110 km/h.");
  EXPECT_EQ(said.verdict.spacing_rule->id, "line-record");
  EXPECT_EQ(said.verdict.speed_rule->id, "line-record");
  EXPECT_EQ(said.verdict.speed_kmh, 110);
  EXPECT_EQ(said.verdict.other_speed_kmh, 200);
  sample.section.records = {{2, 15, 80}};
  EXPECT_EQ(speed("1.1"), unlimited) << "records of several say nothing against one alone";
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
  EXPECT_EQ(sample.with("1.1").of("line-record"), "");
}

TEST_F(SpacingTest, WhereRecordsContradictEachOtherTheLowerSpeedHoldsAndBothAreNamed) {
  sample.section.records = {{2, 10, 100}, {2, 25, 80}};
  EXPECT_EQ(speed("1.1 2.2"), 80);
  EXPECT_EQ(speed("1.1 2.1"), 80);
  const std::string both =
      "A record says \"2 raised, 10 m apart: 100 km/h\", but for the easier case another says \"2 "
      "raised, 25 m apart: 80 km/h\": the infrastructure manager is to say which is right.";
  EXPECT_EQ(sample.with("1.1 2.2").of("line-record"),
            "speed limit: 2 raised, 29.0 m apart at the closest: the section's records contradict "
            "each other, on the safe side 80 km/h. " +
                both);
  sample.section.records = {{1, 0, 90}, {1, 0, 70}};
  EXPECT_EQ(sample.with("1.1").of("line-record"),
            "speed limit: 1 raised: the section's records contradict each other, on the safe side "
            "70 km/h. A record says \"one raised: 90 km/h\", but for the easier case another says "
            "\"one raised: 70 km/h\": the infrastructure manager is to say which is right.");
}

TEST_F(SpacingTest, AConsentPermitsWhatRecordsDoNot) {
  sample.section.records = {{2, 20, 100}};
  consent(2, 9, 70);
  const Said close = sample.with("1.2 2.1");
  EXPECT_FALSE(close.verdict.forbidden);
  EXPECT_EQ(close.verdict.spacing_speed_kmh, 70);
  EXPECT_EQ(close.of("line-record"),
            "speed limit: 2 raised, 9.0 m apart: consent NV-1 of Nordvale Infrastructure names 70 "
            "km/h.");
  EXPECT_EQ(speed("1.1 2.2"), 100) << "the record permits more than the consent";
  EXPECT_TRUE(sample.with("1.1 1.2 2.2").verdict.forbidden) << "it is for two";
}

TEST_F(SpacingTest, TheConsentThatPermitsMostCounts) {
  sample.section.records = {{2, 20, 100}};
  consent(2, 9, 70);
  consent(3, 19, 130);
  consent(2, 19, 120);
  consent(2, 29.1, 180);
  EXPECT_EQ(speed("1.1 2.1"), 130);
  EXPECT_EQ(speed("1.1 2.2"), 130) << "29.1 m are not met";
  EXPECT_EQ(speed("1.2 2.1"), 70);
  sample.train.consents[1].rule = "separation-unknown";
  EXPECT_EQ(speed("1.1 2.1"), 120) << "a consent for something else says nothing of distances";
  sample.train.consents[2].sections = {"s2", "s3"};
  EXPECT_EQ(speed("1.1 2.1"), 70) << "nor does one for other sections";
  sample.train.consents[2].sections = {"s2", "s1"};
  EXPECT_EQ(speed("1.1 2.1"), 120);
}

TEST_F(SpacingTest, AConsentAsFastAsTheRecordIsNotNeeded) {
  sample.section.records = {{2, 20, 100}};
  consent(2, 20, 100);
  EXPECT_EQ(sample.with("1.1 2.2").of("line-record"),
            "speed limit: 2 raised, 29.0 m apart at the closest: the section's record permits 2 "
            "at 20 m and 100 km/h.");
}

TEST_F(SpacingTest, ConsentsSayNothingOfOneAlone) {
  sample.section.records = {{1, 0, 110}};
  consent(2, 9, 150);
  EXPECT_EQ(speed("1.1"), 110);
}

TEST_F(SpacingTest, WithoutRecordsTheDesignTypeGivesTheSpeed) {
  // Type A on AC: 8 m up to 80 km/h, 20 m up to 120, 85 m up to 160.
  const Said far = sample.with("1.1 2.2");
  EXPECT_EQ(far.verdict.spacing_speed_kmh, 120);
  EXPECT_EQ(far.of("design-spacing"),
            "speed limit: 2 raised, 29.0 m apart at the closest: design type A is built for that "
            "up to 120 km/h (85 m for more).");
  EXPECT_EQ(speed("1.1 2.1"), 80);
  EXPECT_EQ(sample.with("1.1 1.2 2.2").of("design-spacing"),
            "speed limit: 3 raised, 10.0 m apart at the closest: design type A is built for that "
            "up to 80 km/h (20 m for more); for more than two this reading is derived.");
  EXPECT_EQ(speed("1.1"), unlimited) << "it says nothing of one alone";
  sample.section.design_type = DesignType::c;  // 15 m up to 120 km/h
  EXPECT_EQ(speed("1.1 2.1"), 120);
  EXPECT_FALSE(far.verdict.consent_needed);
}

TEST_F(SpacingTest, BelowTheTablesDistancesConsentIsNeeded) {
  auto type = SampleCase::locomotive();
  type->pantographs[1].from_cab1_m = 11.5;
  sample.vehicle(1).type = type;
  const Said said = sample.with("1.1 1.2 2.2");
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_FALSE(said.verdict.forbidden);
  EXPECT_EQ(said.verdict.spacing_speed_kmh, 80) << "the slowest row, until the consent says more";
  EXPECT_EQ(said.of("design-spacing"),
            "consent needed: 3 raised, 7.0 m apart at the closest: design type A is built for 8 m "
            "at least. Neither yes nor no: consent of the infrastructure manager, or evidence, is "
            "needed.\n"
            "speed limit: 80 km/h until the consent names a speed.");
  consent(3, 7, 60);
  const Said given = sample.with("1.1 1.2 2.2");
  EXPECT_FALSE(given.verdict.consent_needed);
  EXPECT_EQ(given.of("design-spacing"),
            "speed limit: 3 raised, 7.0 m apart: consent NV-1 of Nordvale Infrastructure names 60 "
            "km/h.");
  sample.train.consents.clear();
  sample.rule("design-spacing").numbers["speed_without_proof_kmh"] = 40;
  EXPECT_EQ(speed("1.1 1.2 2.2"), 40);
}

TEST_F(SpacingTest, AConsentSlowerThanTheDesignTypeIsNotNeeded) {
  consent(2, 20, 110);
  EXPECT_EQ(speed("1.1 2.2"), 120);
  sample.train.consents.front().speed_kmh = 140;
  EXPECT_EQ(speed("1.1 2.2"), 140);
}

TEST_F(SpacingTest, ASectionThatStatesNeitherNeedsConsent) {
  sample.section.design_type.reset();
  const Said said = sample.with("1.1 2.2");
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_EQ(said.of("design-spacing"),
            "consent needed: 2 raised, 29.0 m apart at the closest: the section states neither "
            "record nor design type. Neither yes nor no: consent of the infrastructure manager, or "
            "evidence, is needed.\n"
            "speed limit: 80 km/h until the consent names a speed.");
  EXPECT_FALSE(sample.with("1.1").verdict.consent_needed);
}

// P22.
TEST_F(SpacingTest, DistancesCountBetweenDifferentLocomotives) {
  sample.add(SampleCase::locomotive());
  const Verdict three = sample.with("1.1 2.1 3.2").verdict;
  EXPECT_EQ(three.least_distance_m, 19);
  EXPECT_EQ(three.distance_sum_m, 19 + 29);
  const Verdict pair = sample.with("1.1 1.2 2.2").verdict;
  EXPECT_EQ(pair.least_distance_m, 19) << "the 10 m are on one locomotive";
  EXPECT_EQ(pair.distance_sum_m, 19);
  EXPECT_EQ(sample.with("1.1 1.2").verdict.least_distance_m, 0);
  EXPECT_EQ(sample.with("1.1 1.2").verdict.distance_sum_m, 0);
}

}  // namespace

}  // namespace panup
