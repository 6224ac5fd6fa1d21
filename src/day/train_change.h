#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "day/day.h"
#include "day/train_reading.h"

namespace panup {

/// What becomes of a train, by what the desk has to do about it, the most urgent first.
enum class TrainFate : std::uint8_t {
  no_plan,         ///< before or then there is no plan: they are not compared
  not_permitted,   ///< no permitted configuration, where there was one
  consent_needed,  ///< on a place where none was
  last_resort,     ///< accepted where none was
  slower,          ///< by half a second or more
  other,           ///< whatever else a driver would read
  unchanged,
};
/// "no plan", "no longer permitted", "consent needed", "last resort", "slower", "other",
/// "unchanged".
std::string_view name_of(TrainFate fate);
inline constexpr std::size_t train_fates = 7;

/// A running time that is longer by less is as it was.
inline constexpr double least_loss_s = 0.5;

/// A thing before and then; nothing where there is no such thing.
template <typename Thing>
struct BeforeAndThen {
  std::optional<Thing> before;
  std::optional<Thing> then;
  friend bool operator==(const BeforeAndThen&, const BeforeAndThen&) = default;
};

template <typename Thing>
struct ChangedStretch {
  double from_km = 0;
  double to_km = 0;
  BeforeAndThen<Thing> how;
  friend bool operator==(const ChangedStretch&, const ChangedStretch&) = default;
};

/// What is said of a train elsewhere than it was; on no stretch: not at all.
struct ChangedSaying {
  std::string rule;
  std::string text;
  std::vector<KmStretch> before;
  std::vector<KmStretch> then;
  friend bool operator==(const ChangedSaying&, const ChangedSaying&) = default;
};

/// What is done when a pantograph fails, where it is no longer the same.
struct ChangedFailure {
  PantographRef failed;
  BeforeAndThen<Answer> answer;
  std::vector<ChangedStretch<WhatRemains>> before_departure;
  std::vector<ChangedStretch<WhatRemains>> on_the_road;
};

/// In what two plans of a train differ. Where there are not both, only `fate` is filled, and
/// whether the card holds.
struct TrainChange {
  TrainFate fate = TrainFate::unchanged;
  std::vector<ChangedStretch<HowItRuns>> stretches;
  /// Before alone: dropped; then alone: new; both: at another place, or in other words.
  std::vector<BeforeAndThen<ReadOrder>> orders;
  std::vector<ChangedSaying> forbidden;
  std::vector<ChangedSaying> consents_missing;
  std::vector<ChangedSaying> last_resorts;
  std::vector<ConsentName> consents_newly_used;
  std::vector<ConsentName> consents_no_longer_used;
  std::vector<ChangedFailure> failures;
  std::vector<std::string> card_parts;  ///< of the card, that say something else
  /// The card that was issued does not hold, or is not known to.
  bool card_again = false;
  /// By how much the running time is longer; nothing where there is none before or then.
  std::optional<double> longer_s;

  bool changes() const { return fate != TrainFate::unchanged; }
};

/// What came out for a train, with what is read of its plan; null where it has none.
struct ComparedTrain {
  const TrainOutcome* outcome = nullptr;
  const TrainReading* reading = nullptr;
};

/// Stretches are cut where either plan has a border, and joined where they differ in the same way.
/// Of orders, one of the same action and words elsewhere, or of the same action at the same place,
/// is the same order changed.
TrainChange compare_trains(const ComparedTrain& before, const ComparedTrain& then);

}  // namespace panup
