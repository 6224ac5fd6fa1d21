#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "base/words.h"
#include "judging/facts/separation.h"

namespace panup {

/// What would let the train pass: joins to open and pantographs to lower, together.
struct Remedy {
  std::vector<std::size_t> opened;   ///< indices of joins
  std::vector<std::size_t> lowered;  ///< indices of collectors
  friend bool operator==(const Remedy&, const Remedy&) = default;
};

/// The train after a remedy. Collectors that are left keep their order; joins that are left over
/// with less than two of them are dropped.
RaisedCollectors after(const RaisedCollectors& raised, const Remedy& remedy);

inline constexpr std::size_t most_steps_of_a_remedy = 3;

/// The remedies of fewest steps, at most `most_steps_of_a_remedy`, after which `may_pass` holds,
/// those that lower least first. One pantograph at least stays up. None: only with all of them
/// lowered, or with more steps. `may_pass` must not be spoilt by lowering or opening more.
std::vector<Remedy> remedies(const RaisedCollectors& raised,
                             const std::function<bool(const RaisedCollectors&)>& may_pass);

/// The same for passing `zones` with the breaker open.
std::vector<Remedy> remedies(std::span<const SeparationZone> zones, const RaisedCollectors& raised);

/// "It passes if the roof line of locomotive 1 is opened, or if 1.1 is lowered.", or what to do
/// where there is no remedy.
std::string words_for(const std::vector<Remedy>& remedies, const RaisedCollectors& raised,
                      const Words& words = {});

}  // namespace panup
