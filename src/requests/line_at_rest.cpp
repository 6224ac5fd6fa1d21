#include "requests/line_at_rest.h"

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

constexpr int points_per_span = 41;
/// A line of so many spans is reckoned whole.
constexpr std::size_t spans_reckoned_whole = 40;
/// Of a longer one, so many spans in its middle, with so many further ones on either side.
constexpr std::size_t spans_told = 6;
constexpr std::size_t spans_beside = 12;

/// Spans `from` to `to`, hung alone: no stitch wire at the ends, as at those of any line.
ContactLine part_of(const ContactLine& line, std::size_t from, std::size_t to) {
  ContactLine part = line;
  const auto at = [](std::size_t i) { return static_cast<std::ptrdiff_t>(i); };
  part.spans.assign(line.spans.begin() + at(from), line.spans.begin() + at(to));
  part.supports.assign(line.supports.begin() + at(from), line.supports.begin() + at(to) + 1);
  part.supports.front().stitch_wire.reset();
  part.supports.back().stitch_wire.reset();
  return part;
}

bool agree(double a, double b) {
  constexpr double tolerance = 1e-3;
  return std::abs(a - b) <= tolerance * std::abs(b);
}

bool same_tensions(const StaticState& a, const StaticState& b) {
  return agree(a.contact_tension_n, b.contact_tension_n) &&
         agree(a.messenger_tension_n, b.messenger_tension_n);
}

void take_points(StaticReport& report, const StaticState& part, std::size_t first_span) {
  const std::vector<double> supports = support_positions(report.line);
  for (StaticPoint point : part.points) {
    point.at_m += supports[first_span];
    if (lies_in(point.at_m, supports[report.points_from_span], supports[report.points_to_span])) {
      report.points.push_back(point);
    }
  }
}

}  // namespace

std::variant<StaticReport, std::vector<Sentence>> line_at_rest(const ContactLine& line,
                                                               const LineWeather& weather) {
  auto whole = static_state(line, weather, 2, false);
  if (auto* refusals = std::get_if<std::vector<Sentence>>(&whole)) {
    return std::move(*refusals);
  }
  StaticReport report;
  report.line = line;
  report.weather = weather;
  report.state = std::get<StaticState>(std::move(whole));
  const std::size_t spans = line.spans.size();
  report.points_to_span = spans;
  if (spans > spans_reckoned_whole) {
    report.points_from_span = (spans - spans_told) / 2;
    report.points_to_span = report.points_from_span + spans_told;
    const std::size_t from = report.points_from_span - spans_beside;
    const auto alone = static_state(part_of(line, from, report.points_to_span + spans_beside),
                                    weather, points_per_span, true);
    const auto* const part = std::get_if<StaticState>(&alone);
    // Where tensions depend on the ruling span, a part alone may hang otherwise than in the line.
    if (part != nullptr && same_tensions(*part, report.state)) {
      take_points(report, *part, from);
      return report;
    }
    report.points_from_span = 0;
    report.points_to_span = spans;
  }
  constexpr int few_points_per_span = 5;
  auto state = static_state(
      line, weather, spans > spans_reckoned_whole ? few_points_per_span : points_per_span, true);
  if (auto* refusals = std::get_if<std::vector<Sentence>>(&state)) {
    return std::move(*refusals);
  }
  take_points(report, std::get<StaticState>(state), 0);
  return report;
}

}  // namespace panup
