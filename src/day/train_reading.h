#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.h"
#include "plan/run_plan.h"

namespace panup {

/// What is read of a stretch of route: how the train runs there.
struct HowItRuns {
  Answer answer = Answer::permitted;
  std::string lowered_for = {};
  std::vector<PantographRef> raised = {};  ///< front first
  std::vector<int> put_dead_in_tow = {};
  double speed_kmh = 0;
  std::string speed_reason = {};
  std::optional<double> least_distance_m = {};
  std::optional<EnergySupply> supply = {};
  bool iced = false;
  bool reversed = false;
  friend bool operator==(const HowItRuns&, const HowItRuns&) = default;
};

struct ReadSection {
  double from_km = 0;
  double to_km = 0;
  HowItRuns runs;
};

/// An order to the driver.
struct ReadOrder {
  double at_km = 0;
  std::string action;
  std::string what;
  std::string text;
  std::string if_not_possible;  ///< may be empty
  friend bool operator==(const ReadOrder&, const ReadOrder&) = default;
};

/// What of the train remains without a failed pantograph.
struct WhatRemains {
  Answer answer = Answer::permitted;
  std::vector<PantographRef> raised = {};
  std::vector<int> put_dead_in_tow = {};
  double speed_kmh = 0;                   ///< permitted
  std::optional<double> reaches_km = {};  ///< where it fails on the road: how far the train can go
  bool stranded = false;
  friend bool operator==(const WhatRemains&, const WhatRemains&) = default;
};

struct ReadFailureStretch {
  double from_km = 0;
  double to_km = 0;
  WhatRemains remains;
};

/// What is done when a pantograph fails.
struct ReadFailure {
  PantographRef failed;
  Answer answer = Answer::permitted;
  std::vector<ReadFailureStretch> before_departure;  ///< it has failed from the start
  std::vector<ReadFailureStretch> on_the_road;       ///< it fails there
};

/// The parts of a card.
enum class OnCard : std::uint8_t { answer, train, route, stretches, orders, failures, findings };
inline constexpr std::size_t parts_of_card = 7;
/// "the answer", "the train", ...
std::string_view name_of(OnCard part);

/// What one part of a card says, but for how it is set.
struct CardPart {
  std::string name;  ///< `name_of(OnCard)`
  std::string sha256;
  friend bool operator==(const CardPart&, const CardPart&) = default;
};

/// What people read of a train's plan: enough to say in what two plans of it differ, and whether a
/// card made of one holds for the other. What a plan was made with and what decided nothing, as a
/// temperature that no rule minds, is no part of it.
struct TrainReading {
  std::vector<ReadSection> sections;
  std::vector<ReadOrder> orders;
  std::vector<ReadFailure> failures;
  /// The same parts in the same order for every plan.
  std::vector<CardPart> card;
  std::vector<std::string> classes;      ///< ids of vehicle types that run, each once
  std::vector<std::string> in_place_of;  ///< ids of those that others run in the place of
  std::vector<std::string> files;        ///< paths that were read
  std::vector<std::string> not_there;    ///< paths that were looked for
};

/// `not_there`: as in `PlanInput`.
TrainReading reading_of(const Plan& plan, const std::vector<std::string>& not_there);

/// The same of all parts of a train's way, one behind the other.
TrainReading reading_of(const RunPlan& run, const std::vector<std::string>& not_there);

}  // namespace panup
