#include <fmt/format.h>

#include <algorithm>

#include "day/change_json.h"
#include "day/outcome_json.h"
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
  add_language(json, report.words);
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

namespace {

CsvColumn words_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name), .empty = empty, .meaning = std::move(meaning)};
}
CsvColumn seconds_column(std::string name, std::string meaning) {
  return {std::move(name), CellKind::number, EmptyCell::not_stated, std::move(meaning), "s"};
}
CsvColumn count_column(std::string name, std::string meaning) {
  return {.name = std::move(name), .kind = CellKind::whole, .meaning = std::move(meaning)};
}

CsvTable trains_table() {
  constexpr auto empty = EmptyCell::empty;
  return {
      .name = "what-if",
      .title = "The trains of a day as they are and as they would be, in the order of the desk",
      .columns = {words_column("departure", "Time of day.", EmptyCell::not_stated),
                  words_column("number", "Train number."),
                  words_column("train", "Its name.", empty),
                  words_column("route", "Name of the route or the run.", empty),
                  words_column("change", "What becomes of the train."),
                  words_column("decision_before", "What the desk has to decide."),
                  words_column("decision_then", "What it would have to decide."),
                  words_column("answer_before", "The answer in words.", empty),
                  words_column("answer_then", "The answer as it would be.", empty),
                  seconds_column("running_time_before_s",
                                 "Running time, stops not counted; empty: there is no plan."),
                  seconds_column("running_time_then_s", "The same as it would be."),
                  seconds_column("longer_s", "How much longer it would run; less than 0: shorter."),
                  count_column("stretches", "Stretches that would be run another way."),
                  count_column("orders_new", "Orders to the driver that would be new."),
                  count_column("orders_dropped", "Orders that would not be given."),
                  count_column("orders_other", "Orders that would say something else."),
                  count_column("failures", "Failures of which the plan would say something else."),
                  {.name = "card_again",
                   .kind = CellKind::flag,
                   .meaning = "Its card would have to be issued again."},
                  words_column("mistakes", "What is wrong with its files, or the fault.", empty),
                  words_column("inputs_sha256_before",
                               "SHA-256 over what was asked and the hash of every input.", empty),
                  words_column("inputs_sha256_then", "The same as it would be.", empty),
                  {.name = "invented", .kind = CellKind::flag, .meaning = "Demo data."}},
      .key = {"number"}};
}

/// The first fault or mistakes there are, of the day as it would be before those of the other.
std::string wrong_words(const TrainOutcome& before, const TrainOutcome& then) {
  const TrainOutcome& wrong = then.mistakes.empty() && then.fault.empty() ? before : then;
  std::string words = wrong.fault;
  for (const Diagnostic& mistake : wrong.mistakes) {
    words += (words.empty() ? "" : "; ") + to_line(mistake);
  }
  return words;
}

}  // namespace

CsvTable what_if_table(const WhatIfReport& report) {
  CsvTable table = trains_table();
  for (const std::size_t i : desk_order(report)) {
    const TrainOutcome& before = *report.planned.before[i];
    const TrainOutcome& then = *report.planned.then[i];
    Json row = train_to_json(report, i);
    const Json orders = std::move(row["orders"]);
    for (const char* const how : {"new", "dropped", "other"}) {
      row[fmt::format("orders_{}", how)] = std::ranges::count_if(
          orders, [how](const Json& order) { return order.at("how") == how; });
    }
    for (const char* const when : {"before", "then"}) {
      for (const char* const field : {"decision", "answer", "inputs_sha256"}) {
        row[fmt::format("{}_{}", field, when)] = row.at(when).at(field);
      }
      row[fmt::format("running_time_{}_s", when)] = row.at(when).at("running_time_s");
    }
    for (const char* const named : {"train", "route"}) {
      row[named] = Json(row.at(named).at("name"));
    }
    for (const char* const counted : {"stretches", "failures"}) {
      row[counted] = row.at(counted).size();
    }
    row["mistakes"] = wrong_words(before, then);
    row["invented"] = report.day->invented || report.what_if->invented ||
                      (then.train_name.empty() ? before : then).invented;
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace panup
