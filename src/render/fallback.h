#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// When a pantograph fails.
enum class FailsWhen : std::uint8_t {
  either,            ///< before departure or on the road: the outcome is the same
  before_departure,  ///< or earlier on the road
  here,              ///< on the road, on the stretch itself
};

/// What is done on a stretch without a failed pantograph.
struct FallbackRow {
  double from_km = 0;
  double to_km = 0;
  FailsWhen when{};
  Answer answer = Answer::permitted;
  std::vector<PantographRef> raised;  ///< front first; empty where nothing is permitted
  std::vector<int> put_dead_in_tow;
  bool speed_as_planned = false;  ///< the plan's own speed holds all along the stretch
  double speed_kmh = 0;           ///< of the stretch; where as planned it may vary
  bool stranded = false;          ///< failing here, the train stands until help comes
  bool to_the_end = true;         ///< failing here, the train can go on to the end of the route
  double reaches_km = 0;          ///< failing here, how far it can go on
};

/// The rows of all pantographs whose failure leads to the same.
struct Fallback {
  std::vector<PantographRef> failed;
  std::vector<FallbackRow> rows;  ///< where it differs from the plan; empty: nothing changes
};

/// The contingencies of a plan in the shortest form that says all: what is as planned is left out,
/// equal neighbours are one row, pantographs with the same rows stand together. Those that change
/// nothing come last. Stretches passed with pantographs down are not mentioned.
std::vector<Fallback> fallbacks_of(const Plan& plan);

/// What is up then: "1.4 and 2.1 up", "1.4 up, vehicle 2 dead in tow", "no permitted
/// configuration", "the train stands until help comes".
std::string remedy_words(const FallbackRow& row);

/// What binds the remedy: "only with consent of the infrastructure manager", "as far as km 61.7,
/// no permitted configuration beyond"; empty if nothing does.
std::string limits_words(const FallbackRow& row);

}  // namespace panup
