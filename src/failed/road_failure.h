#pragma once
/// The room `failed`: a pantograph has failed on the road, the train stands, and somebody has to
/// tell the driver how to go on. `request_from_there` makes of the train's request one that begins
/// where the train stands, with that pantograph defective; its plan is made and driven like every
/// other. Where vehicles of the train change farther on, `rest_of_way` does so for all that lies
/// ahead. `message_to_driver` puts it in a few sentences to be read out. `trains_touched` says what
/// the defect does to later trains with the same vehicle.

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "day/day.h"
#include "day/train_change.h"
#include "plan/make_plan.h"
#include "plan/run_plan.h"
#include "requests/files_read_once.h"
#include "requests/parsed_files.h"
#include "requests/run_input.h"

namespace panup {

/// A pantograph that has failed, and where the front of the train stands.
struct RoadFailureAt {
  PantographRef failed;
  double at_km = 0;
};

/// The pantograph of the train that is called so: as in "1.2", or by the vehicle's own number, as
/// in "K41 007.2". What is wrong with the name in `wrong`.
std::optional<PantographRef> pantograph_called(std::string_view name, const Train& train,
                                               std::string& wrong);

/// What is wrong with the question, in words; empty if nothing is.
std::string wrong_with(const RoadFailureAt& failure, const PlanRequest& request);

/// What is wrong with the place alone.
std::string wrong_with_stand(double at_km, const Route& route);

/// Marks the pantograph as defective; nothing of it is ordered up any more.
void set_defective(Train& train, PantographRef failed);

/// The request of the train from where it stands.
PlanRequest request_from_there(PlanRequest request, const RoadFailureAt& failure);

/// The train from where it stands on one of its parts, to the end of its way: what comes after
/// keeps the pantograph down as long as its vehicle is in the train.
RunInput rest_of_way(const RunInput& input, std::size_t part, const RoadFailureAt& failure);

/// What is read out to the driver, one sentence or two each: what is defective, where the train
/// stands, what goes up, how fast and how far, what comes next, where it cannot go on and what it
/// would need, whose consent is needed first.
std::vector<std::string> message_to_driver(const Plan& plan, const RoadFailureAt& failure);

/// The same of the rest of a train's way: what comes where vehicles change, and whether the card
/// holds behind that.
std::vector<std::string> message_to_driver(const RunPlan& run, const RoadFailureAt& failure);

/// A later train of the day with the same vehicle, without and with the defect.
struct TouchedTrain {
  std::size_t row = 0;  ///< of the day
  std::optional<TrainOutcome> before;
  std::optional<TrainOutcome> then;
  TrainChange change;
  std::string wrong;  ///< why it could not be planned; empty: it was
};

/// The trains that leave after the one of `row`, or of which it is not stated when, and that have
/// the vehicle; in order of departure.
struct TouchedQuestion {
  const DayFile& day;
  std::size_t row = 0;
  std::string vehicle;  ///< its own number
  int pantograph = 0;   ///< number on the vehicle
  SpeedFrom speed_from = SpeedFrom::tables;
  Words words = {};  ///< in which plans are said
  /// Sets what a part is planned with besides its files: runs of the mechanics, whether nobody
  /// waits any more. May be empty where the speed is from tables.
  std::function<void(PlanInput&)> make_ready = {};
};
/// Nothing where it was stopped.
std::optional<std::vector<TouchedTrain>> trains_touched(const TouchedQuestion& question,
                                                        FilesReadOnce& files, ParsedFiles& parsed);

}  // namespace panup
