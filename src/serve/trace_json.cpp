#include "serve/trace_json.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace panup {

namespace {

/// To what a plot can show: forces to 0.01 N, places to 1 mm.
std::vector<double> chosen(const std::vector<double>& values,
                           const std::vector<std::size_t>& points, double steps) {
  std::vector<double> list;
  list.reserve(points.size());
  for (const std::size_t i : points) {
    list.push_back(std::round(values[i] * steps) / steps);
  }
  return list;
}

}  // namespace

std::vector<std::size_t> told_points(const Trace::OfPantograph& history, std::size_t most) {
  const std::size_t all = history.at_m.size();
  std::vector<std::size_t> points;
  constexpr std::size_t of_stretch = 4;
  const std::size_t stretches = all <= most ? all : std::max<std::size_t>(most / of_stretch, 1);
  for (std::size_t stretch = 0; stretch < stretches; ++stretch) {
    const auto from = static_cast<std::ptrdiff_t>(stretch * all / stretches);
    const auto to = static_cast<std::ptrdiff_t>((stretch + 1) * all / stretches);
    std::vector<std::size_t> of_this;
    for (const auto* const force : {&history.filtered_force_n, &history.contact_force_n}) {
      const auto [least, greatest] =
          std::minmax_element(force->begin() + from, force->begin() + to);
      of_this.push_back(static_cast<std::size_t>(least - force->begin()));
      of_this.push_back(static_cast<std::size_t>(greatest - force->begin()));
    }
    std::ranges::sort(of_this);
    const auto rest = std::ranges::unique(of_this);
    points.insert(points.end(), of_this.begin(), rest.begin());
  }
  return points;
}

nlohmann::ordered_json trace_to_json(const Trace& trace) {
  auto list = nlohmann::ordered_json::array();
  for (const Trace::OfPantograph& history : trace.pantographs) {
    const auto points = told_points(history, most_trace_points);
    list.push_back({{"at_m", chosen(history.at_m, points, 1000)},
                    {"filtered_force_n", chosen(history.filtered_force_n, points, 100)},
                    {"contact_force_n", chosen(history.contact_force_n, points, 100)}});
  }
  return {{"pantographs", std::move(list)}};
}

}  // namespace panup
