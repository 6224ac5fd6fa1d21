#include "dynamics/run_course.h"

#include <algorithm>

namespace panup {

namespace {

constexpr double tolerance_m = 1e-6;
/// The filter looks about this far ahead.
constexpr double filter_margin_s = 0.1;

}  // namespace

double risen_share(double run_m, double ramp_m) {
  const double t = std::clamp(run_m / ramp_m, 0.0, 1.0);
  return t * t * t * (10 - 15 * t + 6 * t * t);
}

std::variant<RunCourse, Sentence> plan_course(const SimulationRequest& request) {
  const ContactLine& line = *request.line;
  const std::vector<double> supports = support_positions(line);
  const double length = supports.back();
  const double mean_span = length / static_cast<double>(line.spans.size());
  const double train = request.pantographs.back().behind_first_m;
  RunCourse course;
  course.start_m = line.spans.front().length_m / 2 + train;
  course.ramp_m = ramp_spans * mean_span;
  const double first_clear = course.start_m + course.ramp_m + clear_spans * mean_span;
  const double margin = request.speed_kmh / 3.6 * filter_margin_s;
  const double last_possible = length - line.spans.back().length_m / 2 - margin - train;
  const double clear_end = request.settings.near_only ? near_clear_end_spans : clear_end_spans;
  const double last_clear = std::min(last_possible, length - clear_end * mean_span - train);

  const auto from =
      std::ranges::find_if(supports, [&](double at) { return at >= first_clear - tolerance_m; });
  const auto beyond =
      std::ranges::find_if(supports, [&](double at) { return at > last_clear + tolerance_m; });
  // Where no support is clear, what is left is no stretch at all, and the line too short.
  course.from_m = request.settings.from_m.value_or(from == supports.end() ? first_clear : *from);
  course.to_m =
      request.settings.to_m.value_or(beyond == supports.begin() ? last_clear : *(beyond - 1));
  if (course.from_m < first_clear - tolerance_m) {
    return to_say(
        "the stretch to be evaluated begins at {:g} m, and is not clear of the "
        "start before {:.1f} m",
        course.from_m, first_clear);
  }
  if (course.to_m > last_possible + tolerance_m) {
    return to_say(
        "the stretch to be evaluated ends at {:g} m; the pantographs can be followed to {:.1f} m",
        course.to_m, last_possible);
  }
  if (course.to_m > last_clear + tolerance_m) {
    course.warnings.push_back(
        {Doubt::not_clear_of_end,
         to_say("The stretch evaluated is not clear of the line's end after {:.1f} m: waves "
                "come back from there.",
                last_clear)});
  }
  const bool too_short = course.to_m - course.from_m < line.spans.front().length_m - tolerance_m;
  if (too_short && request.settings.from_m && request.settings.to_m) {
    return to_say(
        "the stretch to be evaluated, from {:g} m to {:g} m, is shorter than the first span",
        course.from_m, course.to_m);
  }
  if (too_short) {
    return to_say(
        "the line of {:g} m is too short: {:g} m between the first and the last pantograph and "
        "what must be clear of start and end leave less than one span to evaluate; about "
        "{:.0f} m do",
        length, train, length + 2 * mean_span + std::max(0.0, first_clear - last_clear));
  }
  if (course.to_m - course.from_m < 2 * mean_span - tolerance_m) {
    course.warnings.push_back(
        {Doubt::few_spans, to_say("Less than two spans are evaluated; a longer line says more.")});
  }
  course.end_m = course.to_m + train + margin;
  return course;
}

}  // namespace panup
