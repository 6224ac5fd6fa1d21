/// Entries of a register of defects: which train takes up which, on which day, and what follows.

#include "files/read_defects.h"

#include <gtest/gtest.h>

#include "input_texts.h"

namespace panup {
namespace {

Vehicle vehicle(int number, const std::string& id, int pantographs) {
  auto type = std::make_shared<VehicleType>();
  type->id = "k41";
  for (int i = 1; i <= pantographs; ++i) {
    RoofPantograph roof;
    roof.number = i;
    type->pantographs.push_back(roof);
  }
  Vehicle made;
  made.number = number;
  made.id = id;
  made.type = type;
  return made;
}

Train train_on(const std::string& day) {
  Train train;
  train.release.date = day;
  train.consist = {vehicle(1, "K41 007", 2), LoadGroup{}, vehicle(2, "K41 008", 2)};
  return train;
}

const std::vector<int>& defective(const Train& train, std::size_t item) {
  return std::get<Vehicle>(train.consist[item]).defective;
}

RegisteredDefect entry(const std::string& vehicle, int pantograph, const std::string& since,
                       const std::string& until = "") {
  return {.vehicle = vehicle,
          .pantograph = pantograph,
          .since = since,
          .until = until,
          .file = "d.toml",
          .place = {"d.toml", 7, 1}};
}

std::string said(const std::vector<RegisteredDefect>& all, Train& train) {
  Diagnostics diagnostics;
  take_up(all, train, diagnostics);
  return lines_of(diagnostics);
}

TEST(RegisterOfDefects, AnEntryCountsForItsVehicleFromItsFirstDayToItsLast) {
  const std::vector<RegisteredDefect> all{entry("K41 008", 1, "2031-05-11", "2031-05-13")};
  for (const auto& [day, counts] :
       {std::pair{"2031-05-10", false}, std::pair{"2031-05-11", true},
        std::pair{"2031-05-13", true}, std::pair{"2031-05-14", false}}) {
    Train train = train_on(day);
    EXPECT_EQ(said(all, train), "");
    EXPECT_TRUE(defective(train, 0).empty()) << day;
    EXPECT_EQ(defective(train, 2), counts ? std::vector<int>{1} : std::vector<int>{}) << day;
    EXPECT_EQ(train.registered_defects.size(), counts ? 1U : 0U) << day;
  }
}

TEST(RegisterOfDefects, WithoutALastDayItGoesOn) {
  Train train = train_on("2044-01-01");
  EXPECT_EQ(said({entry("K41 007", 2, "2031-05-11")}, train), "");
  EXPECT_EQ(defective(train, 0), std::vector<int>{2});
}

TEST(RegisterOfDefects, WhereTheDayIsNotStatedEveryEntryCounts) {
  Train train = train_on("");
  EXPECT_EQ(said({entry("K41 007", 2, "2031-05-11", "2031-05-12")}, train), "");
  EXPECT_EQ(defective(train, 0), std::vector<int>{2});
}

TEST(RegisterOfDefects, WhatTheTrainFileKnowsAlreadyStaysOnce) {
  Train train = train_on("2031-05-13");
  std::get<Vehicle>(train.consist[0]).defective = {2};
  EXPECT_EQ(said({entry("K41 007", 2, "2031-05-11"), entry("K41 007", 1, "2031-05-11")}, train),
            "");
  EXPECT_EQ(defective(train, 0), (std::vector<int>{1, 2}));
}

TEST(RegisterOfDefects, APantographThatTheVehicleDoesNotHaveIsToldAtItsEntry) {
  Train train = train_on("2031-05-13");
  EXPECT_EQ(said({entry("K41 007", 3, "2031-05-11")}, train),
            "d.toml:7:1: vehicle 'K41 007', a k41, has no pantograph 3; it has 2\n");
  Train before = train_on("2031-05-10");
  EXPECT_EQ(said({entry("K41 007", 3, "2031-05-11")}, before), "") << "it does not concern it yet";
}

TEST(RegisterOfDefects, OneThatIsOrderedUpIsToldAndNotTaken) {
  Train train = train_on("2031-05-13");
  std::get<Vehicle>(train.consist[0]).kept_up = {2};
  EXPECT_EQ(said({entry("K41 007", 2, "2031-05-11")}, train),
            "d.toml:7:1: pantograph 2 of 'K41 007' is defective and stays down, but the train file "
            "orders it up ('kept_up_pantographs')\n");
}

TEST(RegisterOfDefects, MayBeEmpty) {
  Diagnostics diagnostics;
  const auto all = read_defects({.file = "d.toml", .text = "kind = \"defects\"\n"}, diagnostics);
  ASSERT_TRUE(all);
  EXPECT_TRUE(all->empty());
}

}  // namespace
}  // namespace panup
