#pragma once

#include <tbb/concurrent_unordered_map.h>

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <utility>

#include "plan/moving_change.h"

namespace panup {

/// What a change on the move asks of a state on its way.
struct PassedState {
  bool consent_needed = false;
  std::uint16_t facing_pairs = 0;
  double speed_kmh = 0;  ///< without a consent
};

/// Changes on the move that were looked for, and the states that they pass through and that are not
/// among the configurations of a piece. The way of a long train is looked for again and again, and
/// its changes pass through the same states a hundred times and more. May be asked by several
/// threads at once.
class KnownChanges {
 public:
  /// Nothing if the rules forbid the state; `judge` says so of one that is not known.
  template <typename Judge>
  std::optional<PassedState> state(std::size_t ground, PantographSet set, const Judge& judge) {
    return of(states_, {ground, set}, judge);
  }
  /// Nothing if there is no such change; `find` looks for one that is not known.
  template <typename Find>
  std::optional<MovingChange> change(std::size_t piece, PantographSet from, PantographSet to,
                                     const Find& find) {
    return of(changes_, {piece, from, to}, find);
  }

 private:
  struct Key {
    std::size_t place = 0;  ///< the number of a ground, or of a piece
    PantographSet set;
    PantographSet to = {};
    friend bool operator==(const Key&, const Key&) = default;
  };
  struct Hash {
    std::size_t operator()(const Key& key) const {
      const std::hash<PantographSet> of_set;
      constexpr std::size_t odd = 0x9e3779b97f4a7c15;
      std::size_t mixed = key.place;
      for (const PantographSet set : {key.set, key.to}) {
        mixed = (mixed ^ of_set(set)) * odd;
        mixed ^= mixed >> 32U;
      }
      return mixed;
    }
  };
  template <typename Value>
  using Known = tbb::concurrent_unordered_map<Key, Value, Hash>;

  template <typename Value, typename Find>
  static Value of(Known<Value>& known, const Key& key, const Find& find) {
    if (const auto at = known.find(key); at != known.end()) {
      return at->second;
    }
    return known.emplace(key, find()).first->second;
  }

  Known<std::optional<PassedState>> states_;
  Known<std::optional<MovingChange>> changes_;
};

}  // namespace panup
