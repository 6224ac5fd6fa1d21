#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "requests/plan_input.h"

namespace panup {

/// What a part runs on as if it ran alone: where it begins or ends on the move, from its last stand
/// before or to its next one behind.
struct AloneOn {
  Route route;
  Conditions conditions;
};

/// A part that begins or ends where the train need not stop.
struct PartUnderWay {
  std::string leave;  ///< the vehicles that leave on the move where it ends, in words; or empty
  std::size_t leave_first = 0;  ///< how many of them leave first
  /// By whether it begins on the move, then by whether it ends so; none where it may not, or where
  /// it does neither.
  std::array<std::array<std::optional<AloneOn>, 2>, 2> alone_on;
};

/// The requests for the parts of a train's way, in order. Between two of them the vehicles of the
/// train change.
struct RunInput {
  std::string id;
  std::string name;
  std::string route_name;        ///< of the whole way
  std::vector<PlanInput> parts;  ///< at least one
  /// By part, or empty: then the train stands wherever its vehicles change.
  std::vector<std::optional<PartUnderWay>> under_way = {};
  /// Names of places: where the first part begins, then where each ends. Empty of a train and its
  /// route.
  std::vector<std::string> places = {};
};

/// The part of a train's way that a chainage lies on, by its index: where two meet, the one that
/// begins there, for the vehicles have changed. Beyond all of them: the last.
std::size_t part_at(const RunInput& input, double km);

/// Reads the run that `paths` names with all that it names, and puts together what is asked of
/// each part. Nothing, and at least one diagnostic, if anything is wrong.
std::optional<RunInput> read_run_input(const PlanPaths& paths, SpeedFrom speed_from,
                                       const FileSource& files, Diagnostics& diagnostics,
                                       ParsedFiles* parsed = nullptr);

/// The same of a train, whatever it is asked for with: a run, or a train and its route, which are
/// one part.
std::optional<RunInput> read_train_input(const PlanPaths& paths, SpeedFrom speed_from,
                                         const FileSource& files, Diagnostics& diagnostics,
                                         ParsedFiles* parsed = nullptr);

}  // namespace panup
