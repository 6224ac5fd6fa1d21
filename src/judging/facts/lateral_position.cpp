#include "judging/facts/lateral_position.h"

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

/// The farthest position towards the positive side of a wire bent towards it by `bend_per_m`.
double farthest_m(double length_m, double first_m, double second_m, double bend_per_m) {
  const double at_support = std::max(first_m, second_m);
  const double versine = bend_per_m * length_m * length_m / 8;
  const double difference = first_m - second_m;
  if (versine <= 0 || std::abs(difference) > 4 * versine) {
    return at_support;
  }
  return versine + (first_m + second_m) / 2 + difference * difference / (16 * versine);
}

/// The greatest bend towards the positive side that keeps such a wire within `permitted_m`.
double bend_within(double length_m, double first_m, double second_m, double permitted_m) {
  const double roots = std::sqrt(permitted_m - first_m) + std::sqrt(permitted_m - second_m);
  return 8 * (roots / 2) * (roots / 2) / (length_m * length_m);
}

}  // namespace

double greatest_lateral_position_m(const WireSpan& span, double bend_per_m) {
  const auto [first, second] = span.stagger_m;
  return std::max(farthest_m(span.length_m, first, second, bend_per_m - span.curvature_per_m),
                  farthest_m(span.length_m, -first, -second, bend_per_m + span.curvature_per_m));
}

std::optional<double> greatest_bend_per_m(const WireSpan& span, double permitted_m) {
  const auto [first, second] = span.stagger_m;
  if (std::max(std::abs(first), std::abs(second)) > permitted_m) {
    return std::nullopt;
  }
  const double outwards =
      bend_within(span.length_m, first, second, permitted_m) + span.curvature_per_m;
  const double inwards =
      bend_within(span.length_m, -first, -second, permitted_m) - span.curvature_per_m;
  const double bend = std::min(outwards, inwards);
  return bend < 0 ? std::nullopt : std::optional(bend);
}

double load_n_per_m(const WindLoad& wind, double speed_ms) {
  return 0.5 * wind.air_density_kg_per_m3 * speed_ms * speed_ms * wind.drag_factor *
         wind.diameter_m;
}

double speed_ms_for(const WindLoad& wind, double load_n_per_m) {
  return std::sqrt(2 * load_n_per_m /
                   (wind.air_density_kg_per_m3 * wind.drag_factor * wind.diameter_m));
}

}  // namespace panup
