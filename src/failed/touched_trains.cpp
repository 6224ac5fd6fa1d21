/// What a defect does to later trains of the day.

#include <algorithm>
#include <exception>

#include "day/plan_day.h"
#include "day/plan_parts.h"
#include "failed/road_failure.h"
#include "requests/run_input.h"

namespace panup {

namespace {

/// Puts the pantograph down on every part of the way that has the vehicle; false where none has.
bool set_defective_on_way(RunInput& input, const std::string& vehicle_id, int pantograph) {
  bool found = false;
  for (PlanInput& part : input.parts) {
    for (const ConsistItem& item : part.request.train.consist) {
      const auto* const vehicle = std::get_if<Vehicle>(&item);
      if (vehicle != nullptr && vehicle->id == vehicle_id) {
        set_defective(part.request.train, {vehicle->number, pantograph});
        found = true;
        break;
      }
    }
  }
  return found;
}

struct Planned {
  TrainOutcome outcome;
  TrainReading reading;
};

std::optional<Planned> planned(const RunInput& input) {
  const auto run = plan_parts(input, {});
  return run ? std::optional(Planned{outcome_of(*run), reading_of(*run, not_there(input))})
             : std::nullopt;
}

}  // namespace

std::optional<std::vector<TouchedTrain>> trains_touched(const TouchedQuestion& question,
                                                        FilesReadOnce& files, ParsedFiles& parsed) {
  const DayFile& day = question.day;
  const std::string& departed = day.trains[question.row].departure;
  std::vector<TouchedTrain> all;
  for (const std::size_t row : departure_order(day)) {
    const DayTrain& train = day.trains[row];
    const bool is_later = train.departure.empty() || departed.empty() || train.departure > departed;
    if (row == question.row || question.vehicle.empty() || !is_later) {
      continue;
    }
    Diagnostics mistakes;
    PlanPaths paths = paths_of_train(day, train);
    paths.words = question.words;
    auto input = read_train_input(paths, question.speed_from, files.source(), mistakes, &parsed);
    TouchedTrain touched{.row = row, .before = {}, .then = {}, .change = {}, .wrong = {}};
    if (!input) {
      const auto& named = train.vehicles;
      if (std::ranges::find(named, question.vehicle) != named.end()) {
        touched.wrong = mistakes.empty() ? question.words.say("its input has mistakes")
                                         : to_line(mistakes.front());
        all.push_back(std::move(touched));
      }
      continue;
    }
    for (PlanInput& part : input->parts) {
      if (question.make_ready) {
        question.make_ready(part);
      }
    }
    RunInput with_defect = *input;
    if (!set_defective_on_way(with_defect, question.vehicle, question.pantograph)) {
      continue;
    }
    try {
      const auto before = planned(*input);
      const auto then = before ? planned(with_defect) : std::nullopt;
      if (!then) {
        return std::nullopt;
      }
      touched.change =
          compare_trains({&before->outcome, &before->reading}, {&then->outcome, &then->reading});
      touched.before = before->outcome;
      touched.then = then->outcome;
    } catch (const std::exception& error) {
      touched.wrong = error.what();
    }
    all.push_back(std::move(touched));
  }
  return all;
}

}  // namespace panup
