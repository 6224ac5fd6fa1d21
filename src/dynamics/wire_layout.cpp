#include "dynamics/wire_layout.h"

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

constexpr double same_place_m = 1e-6;
constexpr double beside_m = 0.001;

/// Nodes at points too, but for those right beside a place that must have one: an element so short
/// would be far stiffer than all others, and cost the system its digits.
void add_points(std::vector<double>& places, const std::vector<double>& points) {
  sort_places(places);
  const std::vector<double> given = places;
  for (const double point : points) {
    const auto after = std::ranges::lower_bound(given, point);
    const bool beside = (after != given.end() && *after - point < beside_m) ||
                        (after != given.begin() && point - *(after - 1) < beside_m);
    if (!beside) {
      places.push_back(point);
    }
  }
  std::ranges::sort(places);
}

}  // namespace

void sort_places(std::vector<double>& places) {
  std::ranges::sort(places);
  const auto end = std::unique(places.begin(), places.end(),
                               [](double a, double b) { return b - a < same_place_m; });
  places.erase(end, places.end());
}

bool has_stitch_wire(const ContactLine& line, std::size_t support) {
  return support > 0 && support + 1 < line.supports.size() &&
         line.supports[support].stitch_wire.has_value();
}

WireLayout lay_out(const ContactLine& line, int points_per_span) {
  WireLayout layout;
  layout.supports = support_positions(line);
  layout.contact_places = layout.messenger_places = layout.supports;
  for (std::size_t span = 0; span < line.spans.size(); ++span) {
    for (const Dropper& dropper : line.spans[span].droppers) {
      HungDropper hung{static_cast<int>(span), layout.supports[span] + dropper.at_m, &dropper};
      for (const std::size_t support : {span, span + 1}) {
        if (has_stitch_wire(line, support) &&
            std::abs(hung.at_m - layout.supports[support]) <
                line.supports[support].stitch_wire->length_m / 2 - same_place_m) {
          hung.stitch = static_cast<int>(support);
        }
      }
      layout.contact_places.push_back(hung.at_m);
      if (hung.stitch < 0) {
        layout.messenger_places.push_back(hung.at_m);
      }
      layout.droppers.push_back(hung);
    }
    for (int i = 0; i < points_per_span; ++i) {
      layout.points.push_back(layout.supports[span] +
                              line.spans[span].length_m * i / (points_per_span - 1));
    }
  }
  sort_places(layout.points);
  for (std::size_t support = 0; support < layout.supports.size(); ++support) {
    if (has_stitch_wire(line, support)) {
      const double half = line.supports[support].stitch_wire->length_m / 2;
      layout.messenger_places.push_back(layout.supports[support] - half);
      layout.messenger_places.push_back(layout.supports[support] + half);
    }
  }
  add_points(layout.contact_places, layout.points);
  add_points(layout.messenger_places, layout.points);
  return layout;
}

}  // namespace panup
