#pragma once

#include <nlohmann/json.hpp>

#include "drawing/picture.h"

namespace panup {

/// `{width, height, told, points_per_m?, wire_y?, rail_y?, places: [{of, x, y, width, height}],
/// marks: [{of?, is, …}]}`. Lengths in points, to a hundredth.
///
/// A mark is a "line" {points, closed, width, dash, white}, an "area" {points, white, grey?}, a
/// "circle" {at, radius, width}, a "disc" {at, radius, white}, a "hatch" {boxes: [[x, y, width,
/// height]], gap, width} or a "text" {at, words, size, weight, width, white, struck}. A point is
/// [x, y], `at` of a text the left end of its baseline, a weight 400, 600 or 700.
nlohmann::ordered_json picture_to_json(const Picture& picture);

}  // namespace panup
