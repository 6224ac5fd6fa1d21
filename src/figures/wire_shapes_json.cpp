#include "figures/wire_shapes_json.h"

#include <cmath>

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// To so many parts of one; never −0.
Json rounded(const std::vector<double>& values, double factor, double parts) {
  Json json = Json::array();
  for (const double value : values) {
    const double whole = std::round(value * factor * parts);
    json.push_back(whole == 0 ? 0 : whole / parts);
  }
  return json;
}

Json rounded(const std::vector<std::vector<double>>& rows, double factor, double parts) {
  Json json = Json::array();
  for (const std::vector<double>& row : rows) {
    json.push_back(rounded(row, factor, parts));
  }
  return json;
}

constexpr double to_mm = 1000;
constexpr double tenths = 10;
constexpr double thousandths = 1000;
constexpr double ten_thousandths = 10000;

}  // namespace

Json wire_shapes_to_json(const WireShapes& shapes) {
  Json wires = Json::array();
  for (const WireShape& shape : shapes.wires) {
    wires.push_back({{"name", name_of(shape.wire)},
                     {"at_m", rounded(shape.at_m, 1, thousandths)},
                     {"rest_m", rounded(shape.rest_m, 1, ten_thousandths)},
                     {"lift_mm", rounded(shape.lift_m, to_mm, tenths)}});
  }
  return Json{{"times_s", rounded(shapes.times_s, 1, ten_thousandths)},
              {"wires", std::move(wires)},
              {"pantographs_at_m", rounded(shapes.pantographs_at_m, 1, thousandths)},
              {"head_height_m", rounded(shapes.head_height_m, 1, ten_thousandths)}};
}

}  // namespace panup
