#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

#include "judging/facts/separation.h"

namespace panup {

/// What the length of a separation section alone, without its zones, says of a train.
enum class LengthAnswer : std::uint8_t {
  passes,
  forbidden,  ///< the length is stated with its meaning, and the train does not keep to it
  unknown,    ///< what the length means is not stated, and it would matter
};

struct LengthJudgement {
  LengthAnswer answer{};
  double outer_m = 0;  ///< from the first strip of the foremost to the last one of the rearmost
  /// Least distance between the inner strips of neighbours; none where fewer than two are up.
  std::optional<double> inner_m;
  /// A join of two raised pantographs, where it is what decides.
  std::optional<std::size_t> join;
};

/// Judges by the register's length of a separation section and what it is said to be.
///
/// Maximum between outer strips: all raised pantographs together are within the live ends at some
/// moment, so that whether they are joined does not matter; the distance of the outer strips has to
/// be less than the length. Minimum between inner strips: never two of them are within the section;
/// the distance between any two neighbours has to be more than the length, and no two may be joined
/// on the train, for one is on the wire before the section while the other is on that behind it
/// (derived). Not stated: one raised pantograph passes, more are unknown. A distance that is
/// just the length counts as against the train, and so do strips as long as the section.
LengthJudgement judge_by_length(double length_m, LengthMeaning meaning,
                                const RaisedCollectors& raised);

}  // namespace panup
