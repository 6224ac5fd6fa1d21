#include "records/compare_record.h"

#include <algorithm>
#include <cmath>

#include "dynamics/evaluation.h"
#include "dynamics/run_course.h"
#include "records/judge_record.h"

namespace panup {

namespace {

/// Speeds are told, and simulated, to a tenth of a km/h.
double rounded_speed(double speed_kmh) { return std::round(10 * speed_kmh) / 10; }

/// Of what is compared: the mean speed of the first pantograph measured, for all run alike, and the
/// least and the greatest of any.
MeasuredFigures speed_of(const MeasuredRun& run) {
  MeasuredFigures speed = run.pantographs.front().compared;
  for (const MeasuredPantograph& one : run.pantographs) {
    speed.least_kmh = std::min(speed.least_kmh, one.compared.least_kmh);
    speed.greatest_kmh = std::max(speed.greatest_kmh, one.compared.greatest_kmh);
  }
  return speed;
}

/// The run's figures with the cut-off of a record that was filtered below 20 Hz.
void evaluate_like(double cutoff_hz, SimulationResult& result) {
  if (cutoff_hz >= contact_force_cutoff_hz) {
    return;
  }
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    Trace::OfPantograph& trace = result.trace->pantographs[i];
    trace.filtered_force_n = low_pass(trace.contact_force_n, result.step_s, cutoff_hz);
    PantographRun run = evaluate(trace.contact_force_n, trace.filtered_force_n, result.step_s);
    run.position_m = result.pantographs[i].position_m;
    run.highest_head_m = result.pantographs[i].highest_head_m;
    run.lowest_head_m = result.pantographs[i].lowest_head_m;
    result.pantographs[i] = std::move(run);
  }
}

}  // namespace

ContactLine mirrored(const ContactLine& line) {
  ContactLine other = line;
  std::ranges::reverse(other.supports);
  std::ranges::reverse(other.spans);
  for (Span& span : other.spans) {
    std::ranges::reverse(span.droppers);
    for (Dropper& dropper : span.droppers) {
      dropper.at_m = span.length_m - dropper.at_m;
    }
  }
  return other;
}

double chainage_on(const MeasuredRecord& record, const ContactLine& line, bool falling,
                   double at_m) {
  const double begins_m = record.contact_line_at_m.value_or(0);
  return falling ? begins_m + length_of(line) - at_m : begins_m + at_m;
}

std::optional<ComparedStretches> compared_stretches(
    const MeasuredRecord& record, const ContactLine& line,
    const std::vector<RunningPantograph>& pantographs) {
  if (!record.contact_line_at_m) {
    return std::nullopt;
  }
  ComparedStretches stretches;
  for (const bool falling : {false, true}) {
    const ContactLine met = falling ? mirrored(line) : line;
    SimulationRequest request;
    request.line = &met;
    request.pantographs = pantographs;
    const auto course = plan_course(request);
    const auto* const run = std::get_if<RunCourse>(&course);
    if (run == nullptr) {
      return std::nullopt;
    }
    const double a = chainage_on(record, met, falling, run->from_m);
    const double b = chainage_on(record, met, falling, run->to_m);
    (falling ? stretches.falling : stretches.rising) = {std::min(a, b), std::max(a, b)};
  }
  return stretches;
}

ComparedRun compare_run(const MeasuredRecord& record, const ContactLine& line,
                        const std::vector<RunningPantograph>& pantographs,
                        const std::vector<MeasuredRun>& runs, std::size_t run, const Words& words) {
  const MeasuredRun& measured = runs[run];
  ComparedRun out;
  out.run = run;
  out.line = measured.falling ? mirrored(line) : line;
  out.pantographs = pantographs;
  if (std::ranges::any_of(measured.pantographs,
                          [](const MeasuredPantograph& one) { return one.compared.rows == 0; })) {
    out.nothing = words.say("no row lies where a simulation of the contact line says something");
    return out;
  }
  const MeasuredFigures speed = speed_of(measured);
  if (!is_steady(speed)) {
    out.nothing = words.say(
        "the speed is from {:.0f} to {:.0f} km/h, and a simulation has one speed; it may vary by "
        "{:g} km/h",
        speed.least_kmh, speed.greatest_kmh, steady_speed_kmh);
    return out;
  }
  SimulationRequest request;
  request.line = &out.line;
  request.pantographs = pantographs;
  request.speed_kmh = rounded_speed(speed.mean_kmh);
  request.settings.keep_trace = true;
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    out.nothing = outcome.refusals.empty() ? words.say("the simulation has no answer")
                                           : outcome.refusals.front().said(words);
    return out;
  }
  out.result = std::move(outcome.result);
  evaluate_like(evaluated_low_pass_hz(record), *out.result);
  for (std::size_t i = 0; i < measured.pantographs.size(); ++i) {
    const std::size_t simulated = measured.pantographs[i].pantograph;
    const double measured_n = measured.pantographs[i].compared.std_n;
    const double simulated_n = out.result->pantographs[simulated].std_n;
    ComparedPantograph one;
    one.measured = i;
    one.simulated = simulated;
    one.std_difference = measured_n > 0 ? (simulated_n - measured_n) / measured_n : 1;
    one.valid = std::abs(one.std_difference) <= valid_deviation;
    out.compared.push_back(one);
  }
  return out;
}

}  // namespace panup
