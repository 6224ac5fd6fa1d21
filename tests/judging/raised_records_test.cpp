#include "line/raised_records.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <random>

/// Records of number, distance and speed of one section, read together. What a record means:
/// infrastructure register. That fewer pantographs farther apart are the easier case: common
/// practice, no published source. How contradictions are read is derived.

namespace panup {

namespace {

using Records = std::vector<RaisedRecord>;

double speed(const Records& records, int number, double distance_m) {
  const auto reading = reading_of(records, number, distance_m);
  return reading ? reading->speed_kmh : 0;
}

TEST(RaisedRecords, AGreaterDistanceAtALowerSpeedIsAContradictionAndTheLowerSpeedHoldsForBoth) {
  const Records records{{2, 20, 100}, {2, 85, 80}};
  EXPECT_EQ(speed(records, 2, 90), 80);
  EXPECT_EQ(speed(records, 2, 50), 80) << "nearer together is no easier";
  EXPECT_EQ(speed(records, 2, 20), 80);
  EXPECT_EQ(speed(records, 2, 10), 0);
  const auto reading = reading_of(records, 2, 90);
  EXPECT_EQ(reading->permits, &records[0]);
  EXPECT_EQ(reading->against, &records[1]);
}

TEST(RaisedRecords, FewerPantographsAtALowerSpeedAreAContradictionToo) {
  const Records records{{3, 20, 100}, {2, 20, 90}};
  EXPECT_EQ(speed(records, 3, 20), 90);
  EXPECT_EQ(speed(records, 2, 20), 90);
}

TEST(RaisedRecords, OneAloneSlowerThanTwoIsAContradictionAndNeitherIsFaster) {
  const Records records{{1, 0, 90}, {2, 200, 120}};
  EXPECT_EQ(speed(records, 1, 0), 90);
  EXPECT_EQ(speed(records, 2, 200), 90);
}

TEST(RaisedRecords, OfTwoThatSayTheSameOfTheSameCaseTheSlowerHolds) {
  EXPECT_EQ(speed({{2, 20, 100}, {2, 20, 80}}, 2, 20), 80);
  EXPECT_EQ(speed({{1, 0, 80}, {1, 0, 100}}, 1, 0), 80);
}

TEST(RaisedRecords, MoreDistanceForMoreSpeedAndMorePantographsForLessAreNoContradiction) {
  const Records records{{1, 0, 160}, {2, 20, 100}, {2, 85, 120}, {3, 20, 80}, {3, 200, 120}};
  EXPECT_TRUE(contradictions(records).empty());
  EXPECT_EQ(speed(records, 2, 30), 100);
  EXPECT_EQ(speed(records, 2, 90), 120);
  EXPECT_EQ(speed(records, 3, 90), 80);
  EXPECT_EQ(reading_of(records, 2, 90)->against, nullptr);
}

TEST(RaisedRecords, AContradictionThatDecidesNothingIsNotHeldAgainstAConfiguration) {
  const Records records{{3, 20, 100}, {3, 25, 60}, {2, 10, 100}};
  EXPECT_EQ(speed(records, 2, 30), 100) << "of two, another record says as much";
  EXPECT_EQ(reading_of(records, 2, 30)->against, nullptr);
  EXPECT_EQ(speed(records, 3, 30), 60);
}

TEST(RaisedRecords, EachContradictionIsNamedWithTheSlowestAgainstIt) {
  const auto found = contradictions(Records{{2, 20, 100}, {2, 85, 80}, {2, 100, 70}, {4, 5, 30}});
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].record, 0U);
  EXPECT_EQ(found[0].slower, 2U);
  EXPECT_EQ(found[1].record, 1U);
  EXPECT_EQ(found[1].slower, 2U);
}

/// A second way: cells by number and distance; a speed spreads from cell to neighbouring cell.
struct Cells {
  static constexpr int most = 4;
  static constexpr std::array<double, 4> distances_m{5, 10, 15, 20};
  static constexpr double none = 1e9;
  using Table = std::array<std::array<double, 4>, most + 1>;
  Table highest{};    ///< that nothing easier speaks against
  Table permitted{};  ///< by a record for it or a harder one

  static std::size_t place(const RaisedRecord& record) {
    return static_cast<std::size_t>(std::ranges::find(distances_m, record.distance_m) -
                                    distances_m.begin());
  }

  explicit Cells(const Records& records) {
    for (auto& row : highest) {
      row.fill(none);
    }
    for (const RaisedRecord& record : records) {
      for (std::size_t i = 0; i < 4; ++i) {
        if (record.number == 1 || i == place(record)) {
          double& cell = highest.at(static_cast<std::size_t>(record.number)).at(i);
          cell = std::min(cell, record.speed_kmh);
        }
      }
    }
    for (std::size_t n = 1; n <= most; ++n) {
      for (std::size_t i = 4; i-- > 0;) {
        const double farther = i < 3 ? highest.at(n).at(i + 1) : none;
        highest.at(n).at(i) =
            std::min({highest.at(n).at(i), farther, n > 1 ? highest.at(n - 1).at(i) : none});
      }
    }
    for (const RaisedRecord& record : records) {
      for (std::size_t i = 0; i < 4; ++i) {
        if (record.number == 1 || i == place(record)) {
          const auto n = static_cast<std::size_t>(record.number);
          permitted.at(n).at(i) = highest.at(n).at(i);
        }
      }
    }
    for (std::size_t n = most; n >= 2; --n) {
      for (std::size_t i = 0; i < 4; ++i) {
        const double nearer = i > 0 ? permitted.at(n).at(i - 1) : 0;
        permitted.at(n).at(i) =
            std::max({permitted.at(n).at(i), nearer, n < most ? permitted.at(n + 1).at(i) : 0});
      }
    }
  }
};

Records random_records(std::mt19937& random) {
  Records records;
  const std::size_t count = 1 + random() % 5;
  while (records.size() < count) {
    RaisedRecord record;
    record.number = 1 + static_cast<int>(random() % Cells::most);
    record.distance_m = record.number == 1 ? 0 : Cells::distances_m.at(random() % 4);
    record.speed_kmh = 60 + 20 * static_cast<double>(random() % 4);
    records.push_back(record);
  }
  return records;
}

TEST(RaisedRecords, ReadAsASpreadingOverCellsGives) {
  std::mt19937 random(7);  // NOLINT(cert-msc32-c,cert-msc51-cpp): the same each time
  for (int round = 0; round < 5000; ++round) {
    const Records records = random_records(random);
    const Cells cells(records);
    for (std::size_t n = 1; n <= Cells::most; ++n) {
      for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(speed(records, static_cast<int>(n), Cells::distances_m.at(i)),
                  cells.permitted.at(n).at(i))
            << "round " << round << ", " << n << " at " << Cells::distances_m.at(i);
      }
    }
  }
}

TEST(RaisedRecords, WhatBothOfAContradictionCoverRunsNoFasterThanTheSlower) {
  std::mt19937 random(11);  // NOLINT(cert-msc32-c,cert-msc51-cpp): the same each time
  const auto covers = [](const RaisedRecord& record, int number, double distance_m) {
    return number == 1 ? record.number == 1
                       : record.number >= number && record.distance_m <= distance_m;
  };
  for (int round = 0; round < 2000; ++round) {
    const Records records = random_records(random);
    for (const RaisedRecord& a : records) {
      for (const RaisedRecord& b : records) {
        const bool contradictory = b.number <= a.number &&
                                   (b.number == 1 || b.distance_m >= a.distance_m) &&
                                   b.speed_kmh < a.speed_kmh;
        for (int number = 1; contradictory && number <= Cells::most; ++number) {
          for (const double distance_m : Cells::distances_m) {
            const Records two{a, b};
            if (covers(a, number, distance_m) && covers(b, number, distance_m)) {
              EXPECT_LE(speed(two, number, distance_m), b.speed_kmh);
            }
          }
        }
      }
    }
  }
}

}  // namespace

}  // namespace panup
