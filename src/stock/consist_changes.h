#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/words.h"
#include "stock/train.h"

namespace panup {

enum class ConsistChangeKind : std::uint8_t {
  detach,
  attach,
  run_round,  ///< vehicles go to the other end of the train, along another track
  turn,       ///< vehicles are turned where they stand in the train
  dead_in_tow,
  working,
};
/// "detach", "attach", "run round", "turn", "dead in tow", "working".
std::string_view name_of(ConsistChangeKind kind);
std::optional<ConsistChangeKind> consist_change_named(std::string_view name);

/// What happens to a train: at a stand, but for vehicles that leave it on the move. Front and rear
/// are those of the train as it leaves.
struct ConsistChange {
  ConsistChangeKind kind{};
  std::vector<int> vehicles = {};          ///< numbers; not of those that are attached
  std::vector<std::string> loads = {};     ///< names of wagon groups that are detached
  bool at_front = false;                   ///< where it is attached
  std::vector<ConsistItem> attached = {};  ///< front first, with their cabs, as the train leaves
  bool on_the_move =
      false;  ///< of vehicles that are detached: they drop back, and it does not stop
  SourcePlace place = {};
};

/// Changes the train. Its items stay in their order by its first departure, whichever way it runs
/// now: `reversed` says that it leaves against that. Vehicles keep their numbers. Roof lines that
/// were coupled are so no longer where one of their vehicles goes elsewhere. Reports what cannot be
/// done.
void change_consist(const ConsistChange& change, bool reversed, Train& train,
                    Diagnostics& diagnostics);

/// The change as an order: "Detach vehicle 1 (K41 007)".
std::string words_for(const ConsistChange& change, const Train& before, const Words& words = {});

/// "vehicles 2 (K41 035) and 3".
std::string vehicle_words(const std::vector<int>& numbers, const Train& train,
                          const Words& words = {});

/// Of all numbers of vehicles; 0 for none.
int greatest_vehicle_number(const Train& train);

}  // namespace panup
