#include "quality/speed_scan.h"

#include <algorithm>
#include <cmath>

#include "rules/rule_book.h"

namespace panup {

ScanSettings scan_settings(const Rule& rule, double to_kmh) {
  ScanSettings settings;
  settings.edge_kmh = *number_of(rule, "edge_kmh");
  settings.steepest_margin_per_kmh = *number_of(rule, "steepest_margin_per_kmh");
  settings.close_margin = *number_of(rule, "close_margin");
  const double from = *number_of(rule, "scan_from_kmh");
  const double step = *number_of(rule, "scan_step_kmh");
  for (std::size_t i = 0; from + static_cast<double>(i) * step < to_kmh; ++i) {
    settings.speeds_kmh.push_back(from + static_cast<double>(i) * step);
  }
  settings.speeds_kmh.push_back(to_kmh);
  return settings;
}

SpeedScan::SpeedScan(ScanSettings settings) : settings_(std::move(settings)) {}

SpeedScan::Known::const_iterator SpeedScan::first_failing() const {
  return std::ranges::find_if(known_, [](const auto& entry) { return !entry.second.passes; });
}

std::vector<double> SpeedScan::wanted(std::size_t most) const {
  const auto failing = first_failing();
  std::vector<double> speeds;
  for (const double speed : settings_.speeds_kmh) {
    if (speeds.size() == most || (failing != known_.end() && speed >= failing->first)) {
      break;
    }
    if (!known_.contains(speed)) {
      speeds.push_back(speed);
    }
  }
  if (!speeds.empty()) {
    return speeds;
  }
  const double edge = settings_.edge_kmh;
  for (auto upper = known_.begin(); upper != failing; ++upper) {
    const auto next = std::next(upper);
    if (next == known_.end()) {
      break;
    }
    const double gap = next->first - upper->first;
    const bool at_edge = next == failing;
    const double lower_margin = upper->second.swinging_margin;
    const double upper_margin = next->second.swinging_margin;
    const bool may_hide = lower_margin + upper_margin < settings_.steepest_margin_per_kmh * gap ||
                          std::min(lower_margin, upper_margin) < settings_.close_margin;
    if (gap < 1.5 * edge || !(at_edge || may_hide)) {
      continue;
    }
    // A gap of 1.5 edges and more has a multiple of the edge within it, near its middle.
    speeds.push_back(std::round((upper->first + gap / 2) / edge) * edge);
  }
  return speeds;
}

std::vector<double> SpeedScan::unsettled() const {
  const auto failing = first_failing();
  std::vector<double> speeds;
  if (known_.empty()) {
    return speeds;
  }
  const auto settle = [&](Known::const_iterator at) {
    if (at->second.coarse) {
      speeds.push_back(at->first);
    }
  };
  if (failing != known_.begin()) {
    settle(std::prev(failing));
  }
  if (failing != known_.end()) {
    settle(failing);
  } else if (const auto least = least_passing(failing); least != std::prev(failing)) {
    settle(least);
  }
  return speeds;
}

SpeedScan::Known::const_iterator SpeedScan::least_passing(Known::const_iterator failing) const {
  return std::min_element(known_.begin(), failing, [](const auto& a, const auto& b) {
    return a.second.margin < b.second.margin;
  });
}

void SpeedScan::add(double speed_kmh, Judgement judgement) {
  known_.insert_or_assign(speed_kmh, std::move(judgement));
}

PermittedSpeed SpeedScan::result() const {
  const std::vector<double>& speeds = settings_.speeds_kmh;
  PermittedSpeed result;
  result.looked_from_kmh = speeds.front();
  result.looked_to_kmh = speeds.back();
  result.step_kmh = speeds.size() > 1 ? speeds[1] - speeds[0] : 0;
  const auto decide = [&result](const Judgement& judgement) {
    result.criterion = judgement.criterion;
    result.kind = judgement.kind;
    result.margin = judgement.margin;
    result.pantograph = judgement.pantograph;
    result.text = judgement.text;
    result.refused = judgement.refused;
  };
  for (const auto& [speed_kmh, judgement] : known_) {
    result.judged.push_back({.speed_kmh = speed_kmh,
                             .passes = judgement.passes,
                             .pantographs = judgement.pantographs,
                             .criteria = judgement.criteria,
                             .refused = judgement.refused ? judgement.text : std::string(),
                             .coarse = judgement.coarse});
  }
  const auto failing = first_failing();
  std::map<Doubt, Warning> warnings;
  for (auto at = known_.begin(); at != failing; ++at) {
    for (const Warning& warning : at->second.warnings) {
      warnings.insert_or_assign(
          warning.doubt,
          Warning{warning.doubt, to_say("At {:g} km/h: {}", at->first, warning.text)});
    }
    result.speed_kmh = at->first;
    result.pantographs = at->second.pantographs;
    result.greatest_force_n = at->second.greatest_force_n;
  }
  for (auto& [doubt, warning] : warnings) {
    result.warnings.push_back(std::move(warning));
  }
  if (failing != known_.end()) {
    result.fails_at_kmh = failing->first;
    result.edge_error_kmh = failing->first - result.speed_kmh;
    decide(failing->second);
  } else if (const auto least = least_passing(failing); least != failing) {
    decide(least->second);
  }
  return result;
}

}  // namespace panup
