#include "serve/day_requests.h"

#include "files/read_day.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

Json paths_to_json(const std::vector<FileNamed>& files) {
  Json json = Json::array();
  for (const FileNamed& file : files) {
    json.push_back(file.path);
  }
  return json;
}

Json path_or_null(const std::optional<FileNamed>& file) {
  return file ? Json(file->path) : Json(nullptr);
}

Json row_to_json(const DayTrain& train) {
  return {{"number", train.number},
          {"departure", train.departure.empty() ? Json(nullptr) : Json(train.departure)},
          {"train_file", train.train.path},
          {"route_file", train.route.path},
          {"run_file", train.run.path.empty() ? Json(nullptr) : Json(train.run.path)},
          {"conditions", path_or_null(train.conditions)},
          {"vehicles", train.vehicles}};
}

}  // namespace

Reply reply_to_day(const std::string& path, const PlanningPlace& place) {
  if (const std::string wrong = wrong_with_name(path); !wrong.empty()) {
    return error_reply(status_malformed, wrong);
  }
  Diagnostics diagnostics;
  const FileSource files = files_of(place.library);
  const auto source = files.load(path, diagnostics);
  if (!source) {
    return error_reply(status_not_found,
                       "there is no such file in the library, or it cannot be read",
                       std::move(diagnostics));
  }
  const auto day = read_day(*source, files, diagnostics);
  if (!day) {
    return mistakes_reply(std::move(diagnostics));
  }
  Json trains = Json::array();
  for (const DayTrain& train : day->trains) {
    trains.push_back(row_to_json(train));
  }
  return json_reply({{"path", path},
                     {"name", day->name},
                     {"date", day->date},
                     {"invented", day->invented},
                     {"rules", paths_to_json(day->rules)},
                     {"conditions", path_or_null(day->conditions)},
                     {"consents", paths_to_json(day->consents)},
                     {"defects", paths_to_json(day->defects)},
                     {"trains", std::move(trains)}});
}

}  // namespace panup
