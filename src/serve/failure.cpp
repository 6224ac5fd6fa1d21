#include "serve/failure.h"

#include <algorithm>

#include "drawing/picture_json.h"
#include "pictures/train_picture.h"
#include "serve/pictures.h"
#include "wording/fallback.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

Json names_of(const std::vector<PantographRef>& pantographs) {
  Json names = Json::array();
  for (const PantographRef pantograph : pantographs) {
    names.push_back(to_string(pantograph));
  }
  return names;
}

Json row_to_json(const FallbackRow& row, const Words& words) {
  Json where = Json::array();
  for (const KmStretch& stretch : row.where) {
    where.push_back({{"from_km", stretch.from_km}, {"to_km", stretch.to_km}});
  }
  Json json;
  json["where"] = std::move(where);
  json["where_words"] = where_words(row, words);
  json["failing_here"] = row.failing_here;
  json["then"] = remedy_words(row, words);
  json["limits"] = limits_words(row, words);
  const bool as_planned = may_run(row) && row.speed_as_planned;
  json["speed_as_planned"] = as_planned;
  json["speed_kmh"] = may_run(row) && !as_planned ? Json(row.speed_kmh) : Json();
  return json;
}

Train with_defective(Train train, PantographRef failed) {
  for (ConsistItem& item : train.consist) {
    auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->number == failed.vehicle) {
      vehicle->defective.push_back(failed.pantograph);
    }
  }
  return train;
}

/// Pictures of one train, each drawn once.
class DrawnTrains {
 public:
  DrawnTrains(Train train, const Words& words) : train_(std::move(train)), words_(words) {}

  std::size_t index_of(ShownTrain shown) {
    const auto found = std::ranges::find(seen_, shown);
    const auto index = static_cast<std::size_t>(found - seen_.begin());
    if (found == seen_.end()) {
      pictures_.push_back(picture_to_json(train_picture(train_, shown, picture_width_pt, words_)));
      seen_.push_back(std::move(shown));
    }
    return index;
  }

  Json take() { return std::move(pictures_); }

 private:
  Train train_;
  const Words& words_;
  std::vector<ShownTrain> seen_;
  Json pictures_ = Json::array();
};

Json up_to_json(const FallbackUp& up, bool reversed, DrawnTrains& drawn) {
  Json json;
  json["row"] = up.row ? Json(*up.row) : Json();
  json["answer"] = name_of(up.answer);
  json["raised"] = names_of(up.raised);
  json["picture"] = drawn.index_of(
      {.raised = up.raised, .put_dead_in_tow = up.put_dead_in_tow, .reversed = reversed});
  return json;
}

}  // namespace

Json failure_to_json(const Plan& plan, PantographRef failed) {
  Json json{{"failed", to_string(failed)}, {"rows", Json::array()}, {"places", Json::array()}};
  for (const Fallback& fallback : fallbacks_of(plan)) {
    if (std::ranges::find(fallback.failed, failed) != fallback.failed.end()) {
      for (const FallbackRow& row : fallback.rows) {
        json["rows"].push_back(row_to_json(row, plan.words));
      }
    }
  }
  DrawnTrains drawn(with_defective(plan.train, failed), plan.words);
  for (const FallbackPlace& place : fallback_places(plan, failed)) {
    json["places"].push_back(
        {{"from_km", place.from_km},
         {"to_km", place.to_km},
         {"lowered_for", place.lowered_for.empty() ? Json() : Json(place.lowered_for)},
         {"failed", up_to_json(place.failed, place.reversed, drawn)},
         {"failing", place.failing ? up_to_json(*place.failing, place.reversed, drawn) : Json()}});
  }
  json["pictures"] = drawn.take();
  return json;
}

}  // namespace panup
