#include <fmt/format.h>

#include "day/change_json.h"
#include "day/day_table.h"
#include "day/outcome_json.h"
#include "drawing/json_text.h"
#include "render/csv_row.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::string joined(const auto& list, auto&& words) {
  std::string text;
  for (const auto& one : list) {
    text += (text.empty() ? "" : "; ") + words(one);
  }
  return text;
}

std::string said_words(const SaidWhere& said) {
  return fmt::format("{}: {}", km_list(said.where), said.text);
}

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
  json["since_shown"] = nullptr;
  return json;
}

Json day_to_json(const DayReport& report) {
  const DayFile& day = *report.day;
  Json json;
  json["program_version"] = report.program_version;
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
  json["cautions"] = cautions("table");
  return json;
}

std::string day_to_csv(const DayReport& report) {
  std::string out =
      "departure,number,train,route,decision,answer,least_speed_kmh,least_speed_from_km,"
      "least_speed_to_km,least_speed_reason,forbidden,consents_missing,last_resorts,consents_used,"
      "consents_not_counting,defects,running_time_s,orders,mistakes,inputs_sha256,invented,"
      "since_shown,card_again\n";
  for (const std::size_t row : desk_order(*report.day, report.outcomes)) {
    const DayTrain& train = report.day->trains[row];
    const TrainOutcome& outcome = *report.outcomes[row];
    const ChangeSinceShown* const since = since_shown(report, row);
    const bool planned = outcome.decision > Decision::input_mistake;
    const auto consent_words = [](const ConsentName& consent) {
      return fmt::format("{} of {}{}", consent.reference, consent.given_by,
                         consent.because.empty() ? "" : ": " + consent.because);
    };
    const auto& slowest = outcome.slowest;
    const std::string mistakes =
        outcome.fault +
        joined(outcome.mistakes, [](const Diagnostic& one) { return to_line(one); });
    out += csv_row({train.departure,
                    train.number,
                    outcome.train_name,
                    outcome.route_name,
                    std::string(name_of(outcome.decision)),
                    outcome.answer,
                    slowest ? fmt::format("{:g}", slowest->speed_kmh) : "",
                    slowest ? km_brief(slowest->where.from_km) : "",
                    slowest ? km_brief(slowest->where.to_km) : "",
                    slowest ? slowest->reason : "",
                    joined(outcome.forbidden, said_words),
                    joined(outcome.consents_missing, said_words),
                    joined(outcome.last_resorts, said_words),
                    joined(outcome.consents_used, consent_words),
                    joined(outcome.consents_not_counting, consent_words),
                    joined(outcome.defects,
                           [](const DefectName& defect) {
                             return fmt::format("{} of {}", defect.pantograph, defect.vehicle);
                           }),
                    outcome.running_time_s > 0 ? fmt::format("{:.0f}", outcome.running_time_s) : "",
                    planned ? std::to_string(outcome.orders) : "",
                    mistakes,
                    outcome.inputs_sha256,
                    report.day->invented || outcome.invented ? "yes" : "no",
                    since == nullptr ? "" : std::string(name_of(since->change.fate)),
                    since == nullptr           ? ""
                    : since->change.card_again ? "yes"
                                               : "no"});
  }
  return out;
}

}  // namespace panup
