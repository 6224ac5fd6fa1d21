#include "drawing/picture_json.h"

#include <cmath>

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// A hundredth of a point is a three-hundredth of a millimetre; more figures only take room.
double rounded(double length) {
  const double hundredths = std::round(length * 100);
  return hundredths == 0 ? 0 : hundredths / 100;  // never −0
}

Json to_json(Point point) { return Json::array({rounded(point.x), rounded(point.y)}); }

Json to_json(const std::vector<Point>& points) {
  Json json = Json::array();
  for (const Point point : points) {
    json.push_back(to_json(point));
  }
  return json;
}

int weight_of(FontWeight weight) {
  switch (weight) {
    case FontWeight::semibold:
      return 600;
    case FontWeight::bold:
      return 700;
    case FontWeight::regular:
      break;
  }
  return 400;
}

void add(Json& json, const LineMark& mark) {
  json["is"] = "line";
  json["points"] = to_json(mark.points);
  json["closed"] = mark.closed;
  json["width"] = rounded(mark.width);
  json["dash"] = rounded(mark.dash);
  json["white"] = mark.white;
}

void add(Json& json, const AreaMark& mark) {
  json["is"] = "area";
  json["points"] = to_json(mark.points);
  json["white"] = mark.white;
  if (mark.grey) {
    json["grey"] = *mark.grey;
  }
}

void add(Json& json, const CircleMark& mark) {
  json["is"] = "circle";
  json["at"] = to_json(mark.at);
  json["radius"] = rounded(mark.radius);
  json["width"] = rounded(mark.width);
}

void add(Json& json, const DiscMark& mark) {
  json["is"] = "disc";
  json["at"] = to_json(mark.at);
  json["radius"] = rounded(mark.radius);
  json["white"] = mark.white;
}

void add(Json& json, const HatchMark& mark) {
  json["is"] = "hatch";
  Json boxes = Json::array();
  for (const Box& box : mark.boxes) {
    boxes.push_back(
        Json::array({rounded(box.x), rounded(box.y), rounded(box.width), rounded(box.height)}));
  }
  json["boxes"] = std::move(boxes);
  json["gap"] = rounded(mark.gap);
  json["width"] = rounded(mark.width);
}

void add(Json& json, const TextMark& mark) {
  json["is"] = "text";
  json["at"] = to_json(mark.at);
  json["words"] = mark.words;
  json["size"] = mark.size;
  json["weight"] = weight_of(mark.weight);
  json["width"] = rounded(mark.width);
  json["white"] = mark.white;
  json["struck"] = mark.struck;
}

void add_if_stated(Json& json, const char* key, const std::optional<double>& value) {
  if (value) {
    json[key] = rounded(*value);
  }
}

}  // namespace

Json picture_to_json(const Picture& picture) {
  Json json;
  json["width"] = rounded(picture.width);
  json["height"] = rounded(picture.height);
  json["told"] = picture.told;
  if (picture.points_per_m) {
    json["points_per_m"] = *picture.points_per_m;
  }
  add_if_stated(json, "wire_y", picture.wire_y);
  add_if_stated(json, "rail_y", picture.rail_y);
  Json places = Json::array();
  for (const PicturePlace& place : picture.places) {
    places.push_back({{"of", place.of},
                      {"x", rounded(place.box.x)},
                      {"y", rounded(place.box.y)},
                      {"width", rounded(place.box.width)},
                      {"height", rounded(place.box.height)}});
  }
  json["places"] = std::move(places);
  Json marks = Json::array();
  for (const Mark& mark : picture.marks) {
    Json entry = Json::object();
    if (!mark.of.empty()) {
      entry["of"] = mark.of;
    }
    std::visit([&entry](const auto& is) { add(entry, is); }, mark.is);
    marks.push_back(std::move(entry));
  }
  json["marks"] = std::move(marks);
  return json;
}

}  // namespace panup
