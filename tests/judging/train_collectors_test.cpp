#include "judging/facts/train_collectors.h"

#include <gtest/gtest.h>

namespace panup {

namespace {

std::shared_ptr<const VehicleType> unit(bool roof_line, std::optional<double> strips_mm,
                                        std::optional<bool> coupler = false) {
  auto pantograph = std::make_shared<PantographType>();
  pantograph->id = "p";
  pantograph->strip_length_along_track_mm = strips_mm;
  pantograph->supplies.push_back({.supply = EnergySupply::dc_3kv,
                                  .static_force_n = 100,
                                  .running_current_a = 1000,
                                  .standstill_current_a = 100});
  auto type = std::make_shared<VehicleType>();
  type->id = "u";
  type->kind = VehicleKind::electric_unit;
  type->length_m = 50;
  type->systems = {EnergySupply::dc_3kv};
  type->roof_line = roof_line;
  type->roof_line_can_be_opened = true;
  type->high_voltage_coupler = coupler;
  type->pantographs = {{.number = 1, .from_cab1_m = 10, .type = pantograph},
                       {.number = 2, .from_cab1_m = 35, .type = pantograph}};
  return type;
}

Train train_of(const std::vector<std::shared_ptr<const VehicleType>>& types) {
  Train train;
  for (const auto& type : types) {
    Vehicle vehicle;
    vehicle.number = static_cast<int>(train.consist.size()) + 1;
    vehicle.type = type;
    train.consist.emplace_back(vehicle);
  }
  return train;
}

TEST(RaisedCollectors, StandWhereTheirPantographsDoInTheDirectionOfTravel) {
  const Train train = train_of({unit(false, 500)});
  const RunningTrain ahead = set_running(train, false);
  const RunningTrain back = set_running(train, true);
  const auto there = raised_collectors(ahead, {0, 1}, 0.8);
  const auto and_back = raised_collectors(back, {0, 1}, 0.8);
  ASSERT_EQ(there.collectors.size(), 2U);
  EXPECT_DOUBLE_EQ(there.collectors[0].behind_front_m, 10);
  EXPECT_EQ(to_string(there.collectors[0].ref), "1.1");
  EXPECT_DOUBLE_EQ(and_back.collectors[0].behind_front_m, 15);
  EXPECT_EQ(to_string(and_back.collectors[0].ref), "1.2");
  EXPECT_DOUBLE_EQ(there.collectors[0].strip_extent_m, 0.5);
  EXPECT_EQ(there.collectors[0].fit_for, (std::vector<EnergySupply>{EnergySupply::dc_3kv}));
  EXPECT_TRUE(there.joins.empty());
}

TEST(RaisedCollectors, AreForTheSystemsThatTheirVehicleIsForToo) {
  auto type = std::make_shared<VehicleType>(*unit(false, 500));
  type->systems = {EnergySupply::dc_1500v};
  const Train train = train_of({type});
  EXPECT_TRUE(raised_collectors(set_running(train, false), {0}, 0.8).collectors[0].fit_for.empty());
}

TEST(RaisedCollectors, WhoseStripsAreNotStatedReachAsFarAsIsAssumed) {
  const Train train = train_of({unit(false, std::nullopt)});
  const auto raised = raised_collectors(set_running(train, false), {0}, 0.8);
  EXPECT_DOUBLE_EQ(raised.collectors.at(0).strip_extent_m, 0.8);
}

TEST(RaisedCollectors, AreJoinedByARoofLineOnlyWhereTwoOfItAreUp) {
  const Train train = train_of({unit(true, 500), unit(true, 500)});
  const RunningTrain running = set_running(train, false);
  EXPECT_TRUE(raised_collectors(running, {0, 2}, 0.8).joins.empty());
  const auto joined = raised_collectors(running, {0, 1, 2}, 0.8);
  ASSERT_EQ(joined.joins.size(), 1U);
  EXPECT_EQ(joined.joins[0].name, "the roof line of unit 1");
  EXPECT_EQ(joined.joins[0].collectors, (std::vector<std::size_t>{0, 1}));
  EXPECT_TRUE(joined.joins[0].can_be_opened);
}

TEST(RaisedCollectors, AHighVoltageLineJoinsAllOfItsVehiclesWithOrWithoutRoofLines) {
  Train train = train_of({unit(false, 500), unit(true, 500), unit(false, 500)});
  train.high_voltage_lines.push_back({.vehicles = {2, 3}, .can_be_opened = false, .place = {}});
  const auto raised = raised_collectors(set_running(train, false), {0, 1, 2, 3, 4, 5}, 0.8);
  ASSERT_EQ(raised.joins.size(), 2U);
  EXPECT_EQ(raised.joins[1].name, "the high-voltage line between vehicles 2 and 3");
  EXPECT_EQ(raised.joins[1].collectors, (std::vector<std::size_t>{2, 3, 4, 5}));
  EXPECT_FALSE(raised.joins[1].can_be_opened);
}

TEST(RaisedCollectors, VehiclesOfWhichNothingIsSaidMayBeJoined) {
  const auto unstated = unit(false, 500, std::nullopt);
  Train train = train_of({unstated, unit(false, 500, true)});
  const auto raised = raised_collectors(set_running(train, false), {0, 3}, 0.8);
  ASSERT_EQ(raised.joins.size(), 1U);
  EXPECT_TRUE(raised.joins[0].only_possible);
  EXPECT_FALSE(raised.joins[0].can_be_opened) << "nobody knows how it is connected";
  EXPECT_EQ(raised.joins[0].name, "a high-voltage line between vehicles 1 and 2");
  EXPECT_EQ(raised.joins[0].collectors, (std::vector<std::size_t>{0, 1}));
  EXPECT_TRUE(known_of(raised).joins.empty());
  EXPECT_TRUE(raised_collectors(set_running(train, false), {0, 1}, 0.8).joins.empty())
      << "both on one vehicle: its roof line says";
  train.high_voltage_lines.push_back({.vehicles = {1, 2}, .can_be_opened = false, .place = {}});
  const auto stated = raised_collectors(set_running(train, false), {0, 3}, 0.8);
  ASSERT_EQ(stated.joins.size(), 1U);
  EXPECT_FALSE(stated.joins[0].only_possible);
}

TEST(RaisedCollectors, AVehicleWithoutACouplerOrALoadBetweenEndsWhatMayBeJoined) {
  const auto unstated = unit(false, 500, std::nullopt);
  const Train parted = train_of({unstated, unit(false, 500), unstated});
  EXPECT_TRUE(raised_collectors(set_running(parted, false), {0, 4}, 0.8).joins.empty());
  Train loaded = train_of({unstated, unstated});
  LoadGroup load;
  load.length_m = 200;
  loaded.consist.insert(loaded.consist.begin() + 1, load);
  EXPECT_TRUE(raised_collectors(set_running(loaded, false), {0, 2}, 0.8).joins.empty());
}

}  // namespace

}  // namespace panup
