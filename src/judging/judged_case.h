#pragma once

#include <compare>
#include <optional>
#include <span>
#include <vector>

#include "judging/facts/pantograph_set.h"
#include "judging/facts/running_train.h"
#include "judging/facts/separation.h"
#include "line/route.h"

namespace panup {

struct PreparedRules;

/// A piece of route as the rules see it; made by `Judge::ground`.
/// It holds all that judging reads of a piece, besides train, direction and rules: the same
/// configuration on two pieces that compare equal is judged alike.
struct Ground {
  LineProperties section;
  bool iced = false;
  PantographSet fit;  ///< for the system and admitted by the section, defective or not
  /// Separation sections, passed with pantographs up, that the train stands over on the piece.
  std::vector<const SeparationSection*> separations = {};
  std::vector<const LowPlace*> low_places = {};  ///< that the train stands under on the piece
  std::vector<const Consent*> consents = {};     ///< of the train, that hold on the section
  // NOLINTNEXTLINE(readability-implicit-bool-conversion): the compiler writes it
  friend auto operator<=>(const Ground&, const Ground&) = default;
};

/// A configuration on a piece of route, with what every rule needs to know of it.
struct JudgedCase {
  const RunningTrain& train;
  const LineProperties& section;
  bool iced = false;
  PantographSet fit;  ///< for the system and admitted by the section, defective or not
  PantographSet raised;
  PantographSet defective;
  const std::vector<VehicleRole>& roles;
  std::vector<std::size_t> raised_front_first;                 ///< of `raised`, by index
  std::span<const SeparationSection* const> separations = {};  ///< as in `Ground`
  std::span<const LowPlace* const> low_places = {};            ///< as in `Ground`
  std::span<const Consent* const> consents = {};               ///< as in `Ground`
  const PreparedRules& prepared;

  /// The raised pantographs as the wire sees them, and what joins them. Made when first asked for:
  /// several rules on separation sections want it, most cases never.
  const RaisedCollectors& collectors() const;
  mutable std::optional<RaisedCollectors> made_collectors = std::nullopt;
};

}  // namespace panup
