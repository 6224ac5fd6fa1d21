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
struct Rule;

/// Wire of a section that the front of the train has left, and pantographs that are still under it.
struct WireBehind {
  PantographSet under;
  std::string id;  ///< of the section
  LineProperties section;
  std::vector<const Consent*> consents;  ///< of the train, that hold on the section
  friend auto operator<=>(const WireBehind&, const WireBehind&) = default;
};

/// Pantographs that stay down on a piece of route whatever the wire over them admits, since no
/// order to the driver could keep them out of what they would run into.
struct StaysDown {
  PantographSet pantographs;
  std::string because;  ///< a sentence
  friend auto operator<=>(const StaysDown&, const StaysDown&) = default;
};

/// A piece of route as the rules see it; made by `Judge::ground`.
/// It holds all that judging reads of a piece, besides train, direction and rules: the same
/// configuration on two pieces that compare equal is judged alike.
struct Ground {
  LineProperties section;
  /// The rules that are asked here, in order: pieces that look alike may lie on different lines,
  /// for which an operator has different rules.
  std::vector<const Rule*> asked = {};
  std::vector<const Rule*> asked_lowered = {};  ///< the same where all pantographs are down
  bool iced = false;
  /// For the system and admitted by the section whose wire is over them, defective or not.
  PantographSet fit;
  /// Separation sections, passed with pantographs up, that the train stands over on the piece.
  std::vector<const SeparationSection*> separations = {};
  std::vector<const LowPlace*> low_places = {};  ///< that the train stands under on the piece
  std::vector<const Consent*> consents = {};     ///< of the train, that hold on the section
  /// Other wire over some of the train, where that matters; no pantograph is under two of them.
  std::vector<WireBehind> behind = {};
  std::vector<StaysDown> stays_down = {};
  // NOLINTNEXTLINE(readability-implicit-bool-conversion): the compiler writes it
  friend auto operator<=>(const Ground&, const Ground&) = default;
};

/// A configuration on a piece of route, with what every rule needs to know of it.
struct JudgedCase {
  const RunningTrain& train;
  const LineProperties& section;
  std::string section_id = {};  ///< empty: the one under the front of the train
  bool iced = false;
  PantographSet fit;  ///< as in `Ground`
  PantographSet raised;
  PantographSet defective;
  const std::vector<VehicleRole>& roles;
  std::vector<std::size_t> raised_front_first;                 ///< of `raised`, by index
  std::span<const SeparationSection* const> separations = {};  ///< as in `Ground`
  std::span<const LowPlace* const> low_places = {};            ///< as in `Ground`
  std::span<const Consent* const> consents = {};               ///< as in `Ground`
  std::span<const WireBehind> behind = {};                     ///< as in `Ground`
  const PreparedRules& prepared;

  const Words& words() const { return train.words; }

  /// The section whose wire is over the pantograph.
  const LineProperties& section_over(std::size_t pantograph) const;
  /// Its id; empty where it is the one under the front of the train.
  const std::string& section_id_over(std::size_t pantograph) const;

  /// The raised pantographs as the wire sees them, and what joins them. Made when first asked for:
  /// several rules on separation sections want it, most cases never.
  const RaisedCollectors& collectors() const;
  mutable std::optional<RaisedCollectors> made_collectors = std::nullopt;
};

}  // namespace panup
