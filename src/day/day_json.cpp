#include "day/change_json.h"
#include "day/day_table.h"
#include "day/outcome_json.h"
#include "drawing/json_text.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// Null where nothing has changed, or is not known.
const ChangeSinceShown* since_shown(const DayReport& report, std::size_t row) {
  return report.since_shown.empty() || !report.since_shown[row] ? nullptr
                                                                : &*report.since_shown[row];
}

}  // namespace

Json day_train_to_json(const DayTrain& train, const TrainOutcome& outcome) {
  Json json;
  json["number"] = train.number;
  json["departure"] = train.departure.empty() ? Json(nullptr) : Json(train.departure);
  json["folder"] = folder_of_number(train.number);
  json["train_file"] = train.train.path;
  json["route_file"] = train.route.path;
  json["run_file"] = train.run.path.empty() ? Json(nullptr) : Json(train.run.path);
  json.update(outcome_to_json(outcome));
  json.erase("language");  // one for the whole day
  json["since_shown"] = nullptr;
  return json;
}

Json day_to_json(const DayReport& report) {
  const DayFile& day = *report.day;
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["name"] = day.name;
  json["date"] = day.date;
  json["invented"] = invented(report);
  json["speed_from"] = name_of(report.speed_from);
  json["rule_books"] = report.rule_books;
  json["inputs"] = inputs_to_json(report.inputs);
  const std::vector<std::size_t> counts = counts_of(report);
  Json counted;
  for (std::size_t i = 0; i < decisions; ++i) {
    counted[std::string(name_of(static_cast<Decision>(i)))] = counts[i];
  }
  json["counts"] = std::move(counted);
  Json trains = Json::array();
  for (const std::size_t row : desk_order(day, report.outcomes)) {
    Json one = day_train_to_json(day.trains[row], *report.outcomes[row]);
    if (const ChangeSinceShown* const since = since_shown(report, row)) {
      one["since_shown"] = change_to_json(since->change);
    }
    trains.push_back(std::move(one));
  }
  json["trains"] = std::move(trains);
  json["notes"] = day_notes(report);
  json["cautions"] = cautions("table", report.words);
  return json;
}

}  // namespace panup
