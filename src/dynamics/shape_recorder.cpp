#include "dynamics/shape_recorder.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace panup {

namespace {

std::vector<double> places_between(double from_m, double to_m, double every_m) {
  constexpr double most = most_shape_places - 1;
  const double wanted = std::ceil((to_m - from_m) / every_m - 1e-9);
  const auto intervals = static_cast<std::size_t>(std::clamp(wanted, 1.0, most));
  std::vector<double> places;
  for (std::size_t i = 0; i <= intervals; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(intervals);
    places.push_back(from_m + share * (to_m - from_m));
  }
  return places;
}

/// Height of the messenger wire at places in rising order, straight between the points of a static
/// shape.
std::vector<double> messenger_heights(const std::vector<StaticPoint>& points,
                                      const std::vector<double>& at_m) {
  std::vector<double> heights;
  std::size_t after = 1;
  for (const double at : at_m) {
    while (after + 1 < points.size() && points[after].at_m < at) {
      ++after;
    }
    const StaticPoint& a = points[after - 1];
    const StaticPoint& b = points[after];
    const double way = b.at_m - a.at_m;
    const double share = way > 0 ? std::clamp((at - a.at_m) / way, 0.0, 1.0) : 1;
    heights.push_back(a.messenger_wire_m + share * (b.messenger_wire_m - a.messenger_wire_m));
  }
  return heights;
}

}  // namespace

std::string_view name_of(ShapedWire wire) {
  return wire == ShapedWire::contact ? "contact wire" : "messenger wire";
}

ShapeRecorder::ShapeRecorder(const WireShapeSettings& settings, const LineGrid& grid,
                             const RunCourse& course, double train_m, double speed_ms,
                             double step_s)
    : step_s_(step_s) {
  const double way_of_step = speed_ms * step_s;
  const auto steps_to = [&](double first_at_m) {
    return static_cast<long>(std::ceil((first_at_m - course.start_m) / way_of_step));
  };
  first_ = std::max(1L, steps_to(course.from_m));
  last_ = steps_to(course.to_m + train_m);
  constexpr long most_intervals = most_shape_times - 1;
  const long finest = (last_ - first_ + most_intervals - 1) / most_intervals;
  const double wanted = std::min(settings.every_s / step_s, static_cast<double>(last_));
  every_ = std::max({1L, finest, std::lround(wanted)});
  const auto times = static_cast<std::size_t>((last_ - first_) / every_ + 1);

  const std::vector<double> at_m = places_between(course.from_m, course.to_m, settings.every_m);
  for (const ShapedWire wire : {ShapedWire::contact, ShapedWire::messenger}) {
    std::vector<GridPoint>& points = points_.emplace_back();
    for (const double at : at_m) {
      points.push_back(grid_point(grid, static_cast<int>(wire), at));
    }
    shapes_.wires.push_back({.wire = wire, .at_m = at_m, .rest_m = {}, .lift_m = {}});
    shapes_.wires.back().lift_m.reserve(times);
  }
  shapes_.times_s.reserve(times);
  shapes_.pantographs_at_m.reserve(times);
  shapes_.head_height_m.reserve(times);
}

void ShapeRecorder::note(long steps_done, const LineMotion& line,
                         std::span<const ContactPoint> contacts,
                         std::span<const PantographMotion> pantographs) {
  if (steps_done < first_ || steps_done > last_ || (steps_done - first_) % every_ != 0) {
    return;
  }
  shapes_.times_s.push_back(static_cast<double>(steps_done) * step_s_);
  for (std::size_t wire = 0; wire < points_.size(); ++wire) {
    std::vector<double>& lifts = shapes_.wires[wire].lift_m.emplace_back();
    lifts.reserve(points_[wire].size());
    for (const GridPoint& point : points_[wire]) {
      lifts.push_back(line.lift(point));
    }
  }
  std::vector<double>& at_m = shapes_.pantographs_at_m.emplace_back();
  for (const ContactPoint& contact : contacts) {
    at_m.push_back(contact.at_m());
  }
  std::vector<double>& heights = shapes_.head_height_m.emplace_back();
  for (const PantographMotion& pantograph : pantographs) {
    heights.push_back(pantograph.head());
  }
}

WireShapes ShapeRecorder::take() { return std::exchange(shapes_, {}); }

void add_rest_heights(WireShapes& shapes, const ContactLine& line,
                      const SimulationSettings& settings,
                      const std::vector<ShapeNode>& contact_shape) {
  // Close enough that a messenger wire, straight between them, is out by less than a millimetre.
  constexpr int points_per_span = 201;
  const LineWeather weather = settings.weather_given
                                  ? settings.weather
                                  : LineWeather{.temperature_c = line.reference_temperature_c};
  const auto hung = static_state(line, weather, points_per_span, false);
  const auto* const state = std::get_if<StaticState>(&hung);
  ShapeWalk walk(contact_shape);
  for (WireShape& shape : shapes.wires) {
    if (shape.wire == ShapedWire::contact) {
      for (const double at : shape.at_m) {
        shape.rest_m.push_back(walk.height(at));
      }
    } else if (state != nullptr) {
      shape.rest_m = messenger_heights(state->points, shape.at_m);
    }
  }
}

}  // namespace panup
