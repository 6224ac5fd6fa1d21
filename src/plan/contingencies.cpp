#include "plan/contingencies.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <iterator>

#include "plan/course.h"
#include "plan/explain.h"
#include "plan/planned_sections.h"
#include "plan/stopped.h"

namespace panup {

namespace {

std::string road_text(const PlanningCase& planning, std::size_t piece, PantographSet failed,
                      const RoadFailure& failure) {
  const RunningTrain& train = planning.judge(piece).train();
  const std::string what = list_of(train, failed);
  if (failure.stranded) {
    return fmt::format(
        "{} fails: no permitted configuration is left here; the train stands until "
        "help comes.",
        what);
  }
  std::string text = fmt::format("{} fails: stop, lower it, raise {}", what,
                                 list_of(train, set_of(train, failure.raised)));
  for (const int number : failure.put_dead_in_tow) {
    text += fmt::format(", vehicle {} goes dead in tow", number);
  }
  text += fmt::format("; {:g} km/h", failure.speed_kmh);
  if (failure.answer == Answer::consent_needed) {
    text += ", only with consent of the infrastructure manager";
    text += failure.without_consent.empty()
                ? ""
                : fmt::format(" (without it: {})", failure.without_consent);
  }
  const double end_km = planning.pieces.back().to_km;
  text += failure.reaches_km < end_km
              ? fmt::format("; as far as km {:.3f}, no permitted configuration beyond",
                            failure.reaches_km)
              : std::string("; to the end of the route");
  return text + ".";
}

RoadFailure failure_on(const PlanningCase& planning, std::size_t i, PantographSet failed,
                       const Way& without) {
  const RunningTrain& train = planning.judge(i).train();
  RoadFailure failure;
  failure.from_km = planning.pieces[i].from_km;
  failure.to_km = planning.pieces[i].to_km;
  const std::size_t first_blocked = without.after_stand_blocked[i];
  failure.stranded = without.after_stand[i] == blocked;
  failure.reaches_km = failure.stranded ? failure.from_km
                       : first_blocked < planning.pieces.size()
                           ? planning.pieces[first_blocked].from_km
                           : planning.pieces.back().to_km;
  if (failure.stranded) {
    failure.answer = Answer::none;
  } else {
    // With findings: only then the mechanics is asked for a speed it does not know yet.
    std::vector<Finding> findings;
    const Verdict verdict =
        planning.judge(i).judge(planning.ground(i), *without.after_stand[i], failed, &findings);
    failure.answer = verdict.consent_needed ? Answer::consent_needed : Answer::permitted;
    if (verdict.consent_needed) {
      failure.without_consent = without_consent(planning, i, train.defective | failed);
    }
    failure.raised = refs_of(train, *without.after_stand[i]);
    failure.put_dead_in_tow = put_dead(train, *without.after_stand[i]);
    failure.speed_kmh = verdict.speed_kmh;
  }
  failure.text = road_text(planning, i, failed, failure);
  return failure;
}

/// Alike but for where it begins and ends; a stranded train is told apart by nothing else.
bool continues(const RoadFailure& before, const RoadFailure& after) {
  return before.to_km == after.from_km && before.text == after.text;
}

std::vector<RoadFailure> failures_on_the_road(const PlanningCase& planning, const Way& way,
                                              PantographSet failed, const Way& without) {
  std::vector<RoadFailure> failures;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    if (planning.pieces[i].lowered || way.raised[i] == blocked ||
        !way.raised[i]->intersects(failed)) {
      continue;
    }
    end_if_stopped(*planning.request);
    RoadFailure failure = failure_on(planning, i, failed, without);
    if (!failures.empty() && continues(failures.back(), failure)) {
      failures.back().to_km = failure.to_km;
    } else {
      failures.push_back(std::move(failure));
    }
  }
  return failures;
}

bool differ(const std::vector<PlannedSection>& a, const std::vector<PlannedSection>& b) {
  const auto alike = [](const PlannedSection& x, const PlannedSection& y) {
    return x.from_km == y.from_km && x.to_km == y.to_km && x.raised == y.raised &&
           x.put_dead_in_tow == y.put_dead_in_tow && x.speed_kmh == y.speed_kmh &&
           x.answer == y.answer;
  };
  return !std::ranges::equal(a, b, alike);
}

Contingency contingency_in(const PlanningCase& planning, const Way& way,
                           const std::vector<PlannedSection>& planned, std::size_t p) {
  const RunningTrain& train = planning.judges[0].train();
  const PantographSet failed = PantographSet{p};
  const PantographSet defective = train.defective | failed;
  const Way without = find_way(planning, defective);
  Contingency contingency;
  contingency.failed = train.pantographs[p].ref;
  contingency.sections =
      planned_sections(planning, without, course_along(planning, without, defective), defective);
  contingency.answer = worst(contingency.sections);
  contingency.running_time_s = static_cast<double>(without.cost[Rung::time]) / 1000;
  contingency.changes_the_plan = differ(planned, contingency.sections);
  contingency.on_the_road = failures_on_the_road(planning, way, failed, without);
  return contingency;
}

Contingency contingency_for(const PlanningCase& planning, const Way& way,
                            const std::vector<PlannedSection>& planned, std::size_t p) {
  const RunningTrain& train = planning.judges[0].train();
  if (!train.kept_up.contains(p)) {
    return contingency_in(planning, way, planned, p);
  }
  // What has failed cannot be up by order: everything is judged anew without the order.
  const PantographRef failed = train.pantographs[p].ref;
  PlanRequest request = *planning.request;
  for (ConsistItem& item : request.train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item);
        vehicle != nullptr && vehicle->number == failed.vehicle) {
      std::erase(vehicle->kept_up, failed.pantograph);
    }
  }
  return contingency_in(prepare(request), way, planned, p);
}

}  // namespace

std::vector<Contingency> find_contingencies(const PlanningCase& planning, const Way& way,
                                            const std::vector<PlannedSection>& planned, int jobs) {
  const RunningTrain& train = planning.judges[0].train();
  PantographSet able;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (!vehicle.dead) {
      able |= vehicle.all - train.defective;
    }
  }
  std::vector<std::size_t> failing;
  std::ranges::copy(able, std::back_inserter(failing));
  std::vector<Contingency> contingencies(failing.size());
  tbb::task_arena arena(jobs > 0 ? jobs : tbb::task_arena::automatic);
  arena.execute([&] {
    tbb::parallel_for(std::size_t{0}, failing.size(), [&](std::size_t i) {
      contingencies[i] = contingency_for(planning, way, planned, failing[i]);
    });
  });
  return contingencies;
}

}  // namespace panup
