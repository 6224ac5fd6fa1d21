/// What a defect does to later trains of the day.

#include <algorithm>
#include <exception>

#include "day/plan_day.h"
#include "driving/drive.h"
#include "failed/road_failure.h"
#include "requests/plan_input.h"

namespace panup {

namespace {

const Vehicle* vehicle_with_id(const Train& train, const std::string& id) {
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->id == id) {
      return vehicle;
    }
  }
  return nullptr;
}

struct Planned {
  TrainOutcome outcome;
  TrainReading reading;
};

Planned planned(const PlanRequest& request, const PlanInput& input) {
  std::optional<Plan> plan = make_driven_plan(request);
  plan->inputs = input.files;
  return {outcome_of(*plan), reading_of(*plan, input.not_there)};
}

}  // namespace

std::vector<TouchedTrain> trains_touched(const TouchedQuestion& question, FilesReadOnce& files,
                                         ParsedFiles& parsed) {
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
    auto input = read_plan_input(paths_of_train(day, train), SpeedFrom::tables, files.source(),
                                 mistakes, &parsed);
    TouchedTrain touched{.row = row, .before = {}, .then = {}, .change = {}, .wrong = {}};
    if (!input) {
      const auto& named = train.vehicles;
      if (std::ranges::find(named, question.vehicle) != named.end()) {
        touched.wrong = mistakes.empty() ? "its input has mistakes" : to_line(mistakes.front());
        all.push_back(std::move(touched));
      }
      continue;
    }
    const Vehicle* const vehicle = vehicle_with_id(input->request.train, question.vehicle);
    if (vehicle == nullptr) {
      continue;
    }
    try {
      const Planned before = planned(input->request, *input);
      PlanRequest with_defect = input->request;
      set_defective(with_defect.train, {vehicle->number, question.pantograph});
      const Planned then = planned(with_defect, *input);
      touched.change =
          compare_trains({&before.outcome, &before.reading}, {&then.outcome, &then.reading});
      touched.before = before.outcome;
      touched.then = then.outcome;
    } catch (const std::exception& error) {
      touched.wrong = error.what();
    }
    all.push_back(std::move(touched));
  }
  return all;
}

}  // namespace panup
