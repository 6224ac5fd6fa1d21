/// What happens to a train at a stand: which vehicles stand where, facing which way.

#include "stock/consist_changes.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "input_texts.h"

namespace panup {
namespace {

/// K and M at the front, the load L, the banker B: 1, 2, load, 3.
Train banked_train() {
  auto type = std::make_shared<VehicleType>();
  type->id = "k41";
  type->name = "K41";
  type->length_m = 20;
  const auto vehicle = [&type](int number) {
    Vehicle one;
    one.number = number;
    one.id = fmt::format("K41 {:03}", number);
    one.type = type;
    return one;
  };
  Train train;
  LoadGroup load;
  load.name = "coal";
  load.length_m = 300;
  train.consist = {vehicle(1), vehicle(2), load, vehicle(3)};
  train.high_voltage_lines = {{.vehicles = {1, 2}, .can_be_opened = false, .place = {}}};
  return train;
}

/// "1 2 coal 3'": front first, "'" where cab 2 leads.
std::string order_of(const Train& train) {
  std::string words;
  for (const ConsistItem& item : train.consist) {
    words += words.empty() ? "" : " ";
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      words += std::to_string(vehicle->number);
      words += vehicle->leading_cab == Cab::cab2 ? "'" : "";
      words += vehicle->dead_in_tow ? "d" : "";
    } else {
      words += std::get<LoadGroup>(item).name;
    }
  }
  return words;
}

std::string after(const ConsistChange& change, bool reversed = false) {
  Train train = banked_train();
  Diagnostics said;
  change_consist(change, reversed, train, said);
  return said.empty() ? order_of(train) : lines_of(said);
}

std::vector<ConsistItem> two_more() {
  Train other = banked_train();
  std::get<Vehicle>(other.consist[0]).number = 4;
  std::get<Vehicle>(other.consist[1]).number = 5;
  return {other.consist[0], other.consist[1]};
}

TEST(AChangeOfTheConsist, TakesAwayWhatIsDetached) {
  EXPECT_EQ(after({.kind = ConsistChangeKind::detach, .vehicles = {3}}), "1 2 coal");
  EXPECT_EQ(after({.kind = ConsistChangeKind::detach, .vehicles = {2}, .loads = {"coal"}}), "1 3");
}

TEST(AChangeOfTheConsist, AttachesByTheDirectionInWhichTheTrainLeaves) {
  EXPECT_EQ(after({.kind = ConsistChangeKind::attach, .at_front = true, .attached = two_more()}),
            "4 5 1 2 coal 3");
  EXPECT_EQ(after({.kind = ConsistChangeKind::attach, .attached = two_more()}), "1 2 coal 3 4 5");
  EXPECT_EQ(
      after({.kind = ConsistChangeKind::attach, .at_front = true, .attached = two_more()}, true),
      "1 2 coal 3 5' 4'")
      << "4 leads as the train leaves, with cab 1 towards its front: by the first departure it is "
         "the last, with cab 2 ahead";
  EXPECT_EQ(after({.kind = ConsistChangeKind::attach, .attached = two_more()}, true),
            "5' 4' 1 2 coal 3");
}

TEST(AChangeOfTheConsist, RunsRoundWithoutTurning) {
  EXPECT_EQ(after({.kind = ConsistChangeKind::run_round, .vehicles = {1, 2}}), "coal 3 1 2");
  EXPECT_EQ(after({.kind = ConsistChangeKind::run_round, .vehicles = {3}}), "3 1 2 coal");
  EXPECT_EQ(after({.kind = ConsistChangeKind::run_round, .vehicles = {2}}),
            ": vehicles that run round stand at one end of the train\n");
}

TEST(AChangeOfTheConsist, TurnsAndChangesTheWorkingState) {
  EXPECT_EQ(after({.kind = ConsistChangeKind::turn, .vehicles = {1, 3}}), "1' 2 coal 3'");
  EXPECT_EQ(after({.kind = ConsistChangeKind::dead_in_tow, .vehicles = {2}}), "1 2d coal 3");
  Train train = banked_train();
  std::get<Vehicle>(train.consist[1]).dead_in_tow = true;
  Diagnostics said;
  change_consist({.kind = ConsistChangeKind::working, .vehicles = {2}}, false, train, said);
  EXPECT_EQ(order_of(train), "1 2 coal 3");
}

TEST(AChangeOfTheConsist, UncouplesTheRoofLinesOfWhatGoes) {
  for (const ConsistChangeKind kind :
       {ConsistChangeKind::detach, ConsistChangeKind::run_round, ConsistChangeKind::turn}) {
    Train train = banked_train();
    Diagnostics said;
    change_consist({.kind = kind, .vehicles = {1}}, false, train, said);
    EXPECT_TRUE(train.high_voltage_lines.empty()) << name_of(kind);
  }
  Train train = banked_train();
  Diagnostics said;
  change_consist({.kind = ConsistChangeKind::detach, .vehicles = {3}}, false, train, said);
  EXPECT_EQ(train.high_voltage_lines.size(), 1U);
}

TEST(AChangeOfTheConsist, OfWhatIsNotThereIsAMistake) {
  EXPECT_EQ(after({.kind = ConsistChangeKind::detach, .vehicles = {7}}),
            ": the train has no vehicle 7 here\n");
  EXPECT_EQ(after({.kind = ConsistChangeKind::detach, .loads = {"ore"}}),
            ": the train has no load 'ore' here\n");
}

TEST(AChangeOfTheConsist, IsAnOrderInWords) {
  const Train train = banked_train();
  EXPECT_EQ(
      words_for({.kind = ConsistChangeKind::detach, .vehicles = {3}, .loads = {"coal"}}, train),
      "Detach vehicle 3 (K41 003) and the load 'coal'");
  EXPECT_EQ(words_for({.kind = ConsistChangeKind::attach, .at_front = true, .attached = two_more()},
                      train),
            "Attach at the front of the train as it leaves: vehicle 4, a K41, K41 001 and vehicle "
            "5, a K41, K41 002");
  EXPECT_EQ(greatest_vehicle_number(train), 3);
}

}  // namespace
}  // namespace panup
