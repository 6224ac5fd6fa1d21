#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "judging/judge.h"
#include "plan/ladder.h"
#include "plan/pieces.h"

namespace panup {

class KnownChanges;

/// A configuration and what the rules say of it.
struct JudgedSet {
  PantographSet raised;
  Verdict verdict;
};

/// How far the search of a long train got, of which not all configurations can be judged.
struct Search {
  double configurations = 0;  ///< on the piece that has most, worth considering
  std::size_t judged = 0;     ///< on the piece where most were
  LadderCost least;           ///< no way costs less
};

/// The request made ready for planning: the route cut up, and on each piece all configurations
/// worth considering judged. Pieces that look the same to the rules share their judgements. The
/// request must outlive it; it is not changed by planning and may be shared between threads.
struct PlanningCase {
  const PlanRequest* request = nullptr;
  std::vector<std::string> notes;
  std::vector<Judge> judges;  ///< for the direction at departure, and for the reverse one
  std::vector<PowerlessZone> zones;
  DriverTimes times;
  LadderTerms terms;
  double change_speed_kmh = 0;  ///< on the move; 0 where the rules let nothing be changed there
  std::vector<Piece> pieces;
  std::vector<Ground> ground_at;             ///< by piece
  std::vector<std::size_t> ground_of_piece;  ///< pieces that look the same have one number
  /// By that number: the configurations that are not forbidden, by rising set, of all worth
  /// considering, or of a long train those that the search came to. On pieces with pantographs down
  /// there are none.
  std::vector<std::vector<JudgedSet>> grounds;
  std::optional<Search> search;                 ///< of a long train
  std::shared_ptr<KnownChanges> known_changes;  ///< on the move, by these judges and pieces
  /// By piece: the speed the train can reach on it, entering and leaving at the lowest speeds that
  /// any configuration gives the neighbouring pieces. Beyond it a permitted speed saves no time, so
  /// that a short fast stretch is not overrated; one between fast neighbours may be underrated.
  std::vector<double> useful_speed_kmh;
  std::vector<double> lowered_speed_kmh;  ///< by piece; 0 where pantographs are up

  const Words& words() const { return request->rules.words; }
  const Judge& judge(std::size_t piece) const { return judges[pieces[piece].reversed ? 1 : 0]; }
  const Section& section(std::size_t piece) const {
    return request->route.sections[pieces[piece].section];
  }
  const Ground& ground(std::size_t piece) const { return ground_at[piece]; }
  const std::vector<JudgedSet>& sets_on(std::size_t piece) const {
    return grounds[ground_of_piece[piece]];
  }
};

/// Other sections whose wire is over some of the train while its front is at a place of the piece.
std::vector<Judge::Behind> behind_at(const PlanningCase& planning, std::size_t piece,
                                     double front_km);

/// The judged set on a piece; null if it is forbidden there, or not among the candidates.
const JudgedSet* find_set(const std::vector<JudgedSet>& sets, PantographSet raised);

/// By piece: see `PlanningCase::useful_speed_kmh`.
std::vector<double> useful_speeds_kmh(const PlanningCase& planning);

PlanningCase prepare(const PlanRequest& request);

}  // namespace panup
