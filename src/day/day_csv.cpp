#include <fmt/format.h>

#include <array>

#include "day/day_table.h"
#include "drawing/csv_table.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

CsvColumn words_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name), .empty = empty, .meaning = std::move(meaning)};
}
CsvColumn whole_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name),
          .kind = CellKind::whole,
          .empty = empty,
          .meaning = std::move(meaning)};
}
CsvColumn number_column(std::string name, std::string meaning, std::string unit) {
  return {std::move(name), CellKind::number, EmptyCell::not_stated, std::move(meaning),
          std::move(unit)};
}

CsvTable trains_table() {
  constexpr auto not_stated = EmptyCell::not_stated;
  constexpr auto empty = EmptyCell::empty;
  return {
      .name = "day",
      .title = "The trains of a day, in the order of the desk",
      .columns =
          {words_column("departure", "Time of day.", not_stated),
           words_column("number", "Train number."),
           words_column("train_id", "Id of the train; empty where it could not be read.", empty),
           words_column("train", "Its name.", empty),
           words_column("route_id", "Id of the route or the run.", empty),
           words_column("route", "Its name.", empty),
           words_column("decision", "What the desk has to decide."),
           words_column("answer", "The answer in words.", empty),
           number_column("least_speed_kmh", "Speed of the slowest section.", "km/h"),
           number_column("least_speed_from_km", "Where that begins, chainage.", "km"),
           number_column("least_speed_to_km", "Where it ends.", "km"),
           words_column("least_speed_reason", "What decides it.", not_stated),
           words_column("forbidden", "In words; by rule in day-findings.csv.", empty),
           words_column("consents_missing", "Likewise.", empty),
           words_column("last_resorts", "Likewise.", empty),
           words_column("consents_used", "In words; one by one in day-consents.csv.", empty),
           words_column("consents_not_counting", "Likewise.", empty),
           words_column("defects", "In words; one by one in day-defects.csv.", empty),
           words_column("without_consent", "The best that needs no consent.", empty),
           number_column("running_time_s",
                         "Running time, stops not counted; empty: there is no plan.", "s"),
           whole_column("orders", "Number of orders to the driver.", not_stated),
           words_column("mistakes", "In words; one by one in day-mistakes.csv.", empty),
           words_column("fault", "The fault of the program that left it without a plan.", empty),
           words_column("inputs_sha256", "SHA-256 over what was asked and the hash of every input.",
                        empty),
           {.name = "invented", .kind = CellKind::flag, .meaning = "Demo data."},
           words_column("folder", "Folder with its plan."),
           words_column("train_file", "Path of the train; empty where the day names a run.", empty),
           words_column("route_file", "Path of the route, likewise.", empty),
           words_column("run_file", "Path of the run, which names train and network.", not_stated),
           words_column("since_shown", "What has changed since it was last shown.", not_stated),
           {.name = "card_again",
            .kind = CellKind::flag,
            .empty = not_stated,
            .meaning = "Its card has to be issued again."}},
      .key = {"number"}};
}

/// A table of things that a train has several of.
CsvTable table_beside(std::string name, std::string title, std::vector<CsvColumn> columns,
                      std::vector<std::string> key) {
  columns.insert(columns.begin(), words_column("number", "Train number."));
  key.insert(key.begin(), "number");
  return {.name = std::move(name),
          .title = std::move(title),
          .columns = std::move(columns),
          .key = std::move(key)};
}

/// The lists of findings in JSON, and what they are.
constexpr std::array<std::array<const char*, 2>, 3> finding_lists{
    {{"forbidden", "forbidden"},
     {"consents_missing", "consent missing"},
     {"last_resorts", "last resort"}}};
constexpr std::array<std::array<const char*, 2>, 2> consent_lists{
    {{"consents_used", "used"}, {"consents_not_counting", "not counting"}}};

struct TablesBeside {
  CsvTable vehicles = table_beside("day-vehicles", "The vehicles of a day's trains",
                                   {whole_column("vehicle", "Vehicle of the train, from 1."),
                                    words_column("id", "Its own number.", EmptyCell::empty)},
                                   {"vehicle"});
  CsvTable findings =
      table_beside("day-findings", "What is forbidden, needs consent or is a last resort, by train",
                   {words_column("kind", "forbidden, consent missing or last resort."),
                    whole_column("finding", "Finding of this kind, from 1."),
                    whole_column("stretch", "Stretch of the finding, from 1."),
                    words_column("rule", "Id of the rule.", EmptyCell::empty),
                    words_column("text", "What it says.", EmptyCell::empty),
                    number_column("from_km", "Where it begins, chainage.", "km"),
                    number_column("to_km", "Where it ends.", "km")},
                   {"kind", "finding", "stretch"});
  CsvTable consents =
      table_beside("day-consents", "Consents of a day's trains",
                   {words_column("kind", "used or not counting."),
                    whole_column("consent", "Consent of this kind, from 1."),
                    words_column("reference", "Its reference.", EmptyCell::empty),
                    words_column("given_by", "Who gave it.", EmptyCell::empty),
                    words_column("because", "Why it does not count.", EmptyCell::not_stated)},
                   {"kind", "consent"});
  CsvTable defects =
      table_beside("day-defects", "Defects of a day's trains, from the registers",
                   {whole_column("defect", "Defect of the train, from 1."),
                    words_column("vehicle", "Number of the vehicle.", EmptyCell::empty),
                    whole_column("pantograph", "Pantograph of the vehicle."),
                    words_column("reference", "Reference of the entry.", EmptyCell::empty),
                    words_column("still_possible", "What is still possible.", EmptyCell::empty)},
                   {"defect"});
  CsvTable mistakes = table_beside(
      "day-mistakes", "Mistakes in what a day's trains are read from",
      {whole_column("mistake", "Mistake, from 1."), words_column("file", "File.", EmptyCell::empty),
       whole_column("line", "Line; 0: the file as a whole."), whole_column("column", "Column."),
       words_column("text", "What is wrong, and what would be right.", EmptyCell::empty)},
      {"mistake"});
};

void add_findings(const Json& train, CsvTable& table) {
  for (const auto& [field, kind] : finding_lists) {
    int finding = 0;
    for (const Json& said : train.at(field)) {
      ++finding;
      // One that holds nowhere is told of all the same.
      const Json nowhere = Json::array({Json::object()});
      int stretch = 0;
      for (const Json& where : said.at("where").empty() ? nowhere : said.at("where")) {
        Json row{{"number", train.at("number")}, {"kind", kind},
                 {"finding", finding},           {"stretch", ++stretch},
                 {"rule", said.at("rule")},      {"text", said.at("text")}};
        row.update(where);
        table.rows.push_back(std::move(row));
      }
    }
  }
}

void add_list(const Json& train, const Json& list, const Json& before, const char* counter,
              CsvTable& table) {
  int entry = 0;
  for (const Json& one : list) {
    Json row{{"number", train.at("number")}};
    row.update(before);
    row[counter] = ++entry;
    row.update(one);
    table.rows.push_back(std::move(row));
  }
}

void add_beside(const Json& train, TablesBeside& beside) {
  Json vehicles = Json::array();
  for (const Json& vehicle : train.at("vehicles")) {
    vehicles.push_back({{"id", vehicle}});
  }
  add_list(train, vehicles, Json::object(), "vehicle", beside.vehicles);
  add_findings(train, beside.findings);
  for (const auto& [field, kind] : consent_lists) {
    add_list(train, train.at(field), Json{{"kind", kind}}, "consent", beside.consents);
  }
  add_list(train, train.at("defects"), Json::object(), "defect", beside.defects);
  add_list(train, train.at("mistakes"), Json::object(), "mistake", beside.mistakes);
}

// --- In words, for a table that people read ---

std::string joined(const Json& list, const Words& words, const auto& in_words) {
  std::string text;
  for (const Json& one : list) {
    text += (text.empty() ? "" : "; ") + in_words(one, words);
  }
  return text;
}

std::string finding_words(const Json& said, const Words& words) {
  std::vector<KmStretch> where;
  for (const Json& one : said.at("where")) {
    where.push_back({one.at("from_km"), one.at("to_km")});
  }
  return fmt::format("{}: {}", km_list(where, words), said.at("text").get<std::string>());
}

std::string consent_words(const Json& consent, const Words& words) {
  const std::string because = consent.value("because", "");
  return words.say("{} of {}", consent.at("reference").get<std::string>(),
                   consent.at("given_by").get<std::string>()) +
         (because.empty() ? "" : ": " + because);
}

std::string defect_words(const Json& defect, const Words& words) {
  return words.say("{} of {}", defect.at("pantograph").get<int>(),
                   defect.at("vehicle").get<std::string>());
}

Json train_row(const Json& train, const DayReport& report, bool planned) {
  Json row = train;
  row["train_id"] = train.at("train").at("id");
  row["train"] = train.at("train").at("name");
  row["route_id"] = train.at("route").at("id");
  row["route"] = train.at("route").at("name");
  if (const Json& least = train.at("least_speed"); !least.is_null()) {
    for (const char* const field : {"from_km", "to_km", "reason"}) {
      row[std::string("least_speed_") + field] = least.at(field);
    }
    row["least_speed_kmh"] = least.at("speed_kmh");
  }
  for (const auto& [field, kind] : finding_lists) {
    row[field] = joined(train.at(field), report.words, finding_words);
  }
  for (const auto& [field, kind] : consent_lists) {
    row[field] = joined(train.at(field), report.words, consent_words);
  }
  row["defects"] = joined(train.at("defects"), report.words, defect_words);
  if (!planned) {
    row["running_time_s"] = nullptr;
    row["orders"] = nullptr;
  }
  row["invented"] = report.day->invented || train.at("invented").get<bool>();
  if (const Json& since = train.at("since_shown"); !since.is_null()) {
    row["card_again"] = since.at("card_again");
    row["since_shown"] = since.at("change");
  }
  return row;
}

}  // namespace

std::vector<CsvTable> day_tables(const DayReport& report) {
  CsvTable trains = trains_table();
  TablesBeside beside;
  const Json json = day_to_json(report);
  const std::vector<std::size_t> order = desk_order(*report.day, report.outcomes);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const TrainOutcome& outcome = *report.outcomes[order[i]];
    const Json& train = json["trains"][i];
    Json row = train_row(train, report, outcome.decision > Decision::input_mistake);
    std::string mistakes;
    for (const Diagnostic& mistake : outcome.mistakes) {
      mistakes += (mistakes.empty() ? "" : "; ") + to_line(mistake);
    }
    row["mistakes"] = std::move(mistakes);
    trains.rows.push_back(std::move(row));
    add_beside(train, beside);
  }
  return {std::move(trains),          std::move(beside.vehicles), std::move(beside.findings),
          std::move(beside.consents), std::move(beside.defects),  std::move(beside.mistakes)};
}

std::string day_to_csv(const DayReport& report) { return csv_text(day_tables(report).front()); }

}  // namespace panup
