#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "day/change_json.h"
#include "day/outcome_json.h"
#include "drawing/csv_row.h"
#include "drawing/json_text.h"
#include "render/json_parts.h"
#include "what_if/what_if_report.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// What of an outcome stands beside the other one.
Json outcome_in_short(const TrainOutcome& outcome) {
  Json json;
  json["decision"] = name_of(outcome.decision);
  json["answer"] = outcome.answer;
  json["running_time_s"] =
      outcome.running_time_s > 0 ? Json(outcome.running_time_s) : Json(nullptr);
  json["orders"] = outcome.orders;
  json["inputs_sha256"] = outcome.inputs_sha256;
  json["mistakes"] = diagnostics_to_json(outcome.mistakes);
  json["fault"] = outcome.fault;
  return json;
}

Json what_if_file_to_json(const WhatIf& what_if) {
  const auto paths = [](const std::vector<FileNamed>& files) {
    Json json = Json::array();
    for (const FileNamed& file : files) {
      json.push_back(file.path);
    }
    return json;
  };
  Json json;
  json["name"] = what_if.name;
  json["conditions"] = what_if.conditions ? Json(what_if.conditions->path) : Json(nullptr);
  json["rules"] = paths(what_if.rules);
  json["consents"] = paths(what_if.consents);
  json["defects"] = paths(what_if.defects);
  json["replaced_files"] = Json::array();
  for (const FileInPlace& one : what_if.replaced_files) {
    json["replaced_files"].push_back(Json{{"file", one.file.path}, {"by", one.by.path}});
  }
  json["replaced_classes"] = Json::array();
  for (const ReplacedClass& one : what_if.replaced_classes) {
    json["replaced_classes"].push_back(Json{{"class", one.id}, {"by", one.by}});
  }
  return json;
}

Json train_to_json(const WhatIfReport& report, std::size_t row) {
  const DayTrain& train = report.day->trains[row];
  const TrainOutcome& before = *report.planned.before[row];
  const TrainOutcome& then = *report.planned.then[row];
  const TrainOutcome& named = then.train_name.empty() ? before : then;
  const TrainChange& change = report.planned.changes[row];
  Json json;
  json["number"] = train.number;
  json["departure"] = train.departure.empty() ? Json(nullptr) : Json(train.departure);
  json["train_file"] = train.train.path;
  json["route_file"] = train.route.path;
  json["run_file"] = train.run.path.empty() ? Json(nullptr) : Json(train.run.path);
  json["train"] = Json{{"id", named.train_id}, {"name", named.train_name}};
  json["route"] = Json{{"id", named.route_id}, {"name", named.route_name}};
  json["before"] = outcome_in_short(before);
  json["then"] = outcome_in_short(then);
  json.update(change_to_json(change));
  return json;
}

}  // namespace

Json what_if_to_json(const WhatIfReport& report) {
  const DayFile& day = *report.day;
  Json json;
  json["program_version"] = report.program_version;
  if (report.words != Words()) {
    json["language"] = report.words.language();
  }
  json["name"] = day.name;
  json["date"] = day.date;
  json["invented"] = invented(report);
  json["speed_from"] = name_of(report.speed_from);
  json["what_if"] = what_if_file_to_json(*report.what_if);
  json["rule_books"] = Json{{"before", report.rule_books}, {"then", report.rule_books_then}};
  json["inputs"] = inputs_to_json(report.inputs);
  const std::vector<std::size_t> counts = counts_of(report);
  Json counted;
  for (std::size_t i = 0; i < train_fates; ++i) {
    counted[std::string(name_of(static_cast<TrainFate>(i)))] = counts[i];
  }
  json["counts"] = std::move(counted);
  json["any_change"] = any_change(report);
  const TimeLost lost = time_lost(report);
  json["longer_s"] = lost.longer_s;
  json["shorter_s"] = lost.shorter_s;
  json["cards_again"] = std::ranges::count_if(report.planned.changes, &TrainChange::card_again);
  Json trains = Json::array();
  for (const std::size_t row : desk_order(report)) {
    trains.push_back(train_to_json(report, row));
  }
  json["trains"] = std::move(trains);
  json["notes"] = what_if_notes(report);
  json["cautions"] = cautions("comparison", report.words);
  return json;
}

std::string what_if_to_csv(const WhatIfReport& report) {
  std::string out =
      "departure,number,train,route,change,decision_before,decision_then,answer_before,answer_then,"
      "running_time_before_s,running_time_then_s,longer_s,stretches,orders_new,orders_dropped,"
      "orders_other,failures,card_again,mistakes,inputs_sha256_before,inputs_sha256_then,"
      "invented\n";
  for (const std::size_t row : desk_order(report)) {
    const DayTrain& train = report.day->trains[row];
    const TrainOutcome& before = *report.planned.before[row];
    const TrainOutcome& then = *report.planned.then[row];
    const TrainOutcome& named = then.train_name.empty() ? before : then;
    const TrainChange& change = report.planned.changes[row];
    const auto seconds = [](double value) {
      return value > 0 ? fmt::format("{:.0f}", value) : std::string();
    };
    const auto fresh =
        std::ranges::count_if(change.orders, [](const auto& one) { return !one.before; });
    const auto dropped =
        std::ranges::count_if(change.orders, [](const auto& one) { return !one.then; });
    const TrainOutcome& wrong = then.mistakes.empty() && then.fault.empty() ? before : then;
    std::string mistakes = wrong.fault;
    for (const Diagnostic& mistake : wrong.mistakes) {
      mistakes += (mistakes.empty() ? "" : "; ") + to_line(mistake);
    }
    const std::vector<std::string> cells{
        train.departure,
        train.number,
        named.train_name,
        named.route_name,
        std::string(name_of(change.fate)),
        std::string(name_of(before.decision)),
        std::string(name_of(then.decision)),
        before.answer,
        then.answer,
        seconds(before.running_time_s),
        seconds(then.running_time_s),
        change.longer_s ? fmt::format("{:.0f}", std::round(*change.longer_s) + 0.0) : "",
        std::to_string(change.stretches.size()),
        std::to_string(fresh),
        std::to_string(dropped),
        std::to_string(static_cast<std::ptrdiff_t>(change.orders.size()) - fresh - dropped),
        std::to_string(change.failures.size()),
        change.card_again ? "yes" : "no",
        mistakes,
        before.inputs_sha256,
        then.inputs_sha256,
        report.day->invented || report.what_if->invented || named.invented ? "yes" : "no"};
    out += csv_row(cells);
  }
  return out;
}

}  // namespace panup
