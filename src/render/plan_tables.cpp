#include "render/plan_tables.h"

#include <algorithm>

#include "render/plan_json.h"
#include "wording/wording.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

CsvColumn count_column(std::string name, std::string meaning) {
  return {.name = std::move(name), .kind = CellKind::whole, .meaning = std::move(meaning)};
}
CsvColumn km_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {std::move(name), CellKind::number, empty, std::move(meaning), "km"};
}
CsvColumn words_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name), .empty = empty, .meaning = std::move(meaning)};
}
CsvColumn list_column(std::string name, std::string meaning, CellKind kind = CellKind::text) {
  return {.name = std::move(name),
          .kind = kind,
          .empty = EmptyCell::empty,
          .meaning = std::move(meaning),
          .is_list = true};
}

const char* const of_part = "Part of the run, from 1; of a train on a route there is one.";
const char* const of_section = "Section of this part, from 1, as in sections.csv.";
const char* const pantographs_meaning = "Pantographs as V.P: vehicle and pantograph on it";

CsvTable sections_table() {
  return {
      .name = "sections",
      .title = "The way of a train, cut into sections: what is up, how fast, and why",
      .columns =
          {count_column("part", of_part),
           count_column("number", "Section of the part, from 1."),
           km_column("from_km", "Where it begins, chainage of the route."),
           km_column("to_km", "Where it ends."),
           words_column("section", "Id of the section of the route.", EmptyCell::not_stated),
           words_column("energy_supply", "Energy supply system.", EmptyCell::not_stated),
           {.name = "iced", .kind = CellKind::flag, .meaning = "The contact wire is iced."},
           {.name = "reversed",
            .kind = CellKind::flag,
            .meaning = "The train runs with its departure rear in front."},
           words_column("lowered_for", "What all pantographs are down for.", EmptyCell::not_stated),
           words_column("answer", "permitted, consent needed or no permitted configuration."),
           list_column("raised", std::string(pantographs_meaning) + ", front first."),
           list_column("put_dead_in_tow", "Vehicles that are put dead in tow.", CellKind::whole),
           {"speed_kmh", CellKind::number, EmptyCell::never, "How fast the train may run.", "km/h"},
           words_column("speed_rule", "Rule that limits the speed.", EmptyCell::empty),
           words_column("speed_reason", "What limits the speed.", EmptyCell::empty),
           {"permitted_speed_kmh", CellKind::number, EmptyCell::never,
            "What the rules permit for what is up there; less may be ordered.", "km/h"},
           {"least_distance_m", CellKind::number, EmptyCell::not_stated,
            "Least distance between raised pantographs.", "m"}},
      .key = {"part", "number"}};
}

CsvTable lines_table() {
  return {.name = "section-lines",
          .title = "The sections of a train's way on lines with their own kilometres",
          .columns = {count_column("part", of_part), count_column("section_number", of_section),
                      count_column("number", "Stretch of the section, from 1."),
                      words_column("line", "Line."),
                      km_column("from_km", "Where it begins, on the line."),
                      km_column("to_km", "Where it ends, on the line.")},
          .key = {"part", "section_number", "number"}};
}

CsvTable findings_table() {
  return {.name = "section-findings",
          .title = "What the rules say of each section of a train's way",
          .columns = {count_column("part", of_part),
                      count_column("section_number", of_section),
                      count_column("number", "Finding on the section, from 1."),
                      words_column("rule", "Id of the rule."),
                      words_column("strength", "What the rule does here."),
                      words_column("standing", "Where the rule comes from."),
                      {.name = "kept",
                       .kind = CellKind::flag,
                       .empty = EmptyCell::not_stated,
                       .meaning = "Whether what the rule wants is so; empty: it wants nothing."},
                      words_column("text", "What it says here.", EmptyCell::empty),
                      words_column("source", "Source of the rule.", EmptyCell::empty),
                      words_column("because", "Why there is the rule.", EmptyCell::empty)},
          .key = {"part", "section_number", "number"}};
}

CsvTable values_table() {
  return {
      .name = "section-values",
      .title = "The values of the input that the findings on each section rest on",
      .columns = {count_column("part", of_part), count_column("section_number", of_section),
                  count_column("finding_number", "Finding on the section, from 1."),
                  count_column("number", "Value of the finding, from 1."),
                  words_column("of", "What it is a value of."),
                  words_column("id", "Id or name of that.", EmptyCell::empty),
                  words_column("key", "Key in the file."),
                  words_column("where_from", "Where the value comes from.", EmptyCell::not_stated)},
      .key = {"part", "section_number", "finding_number", "number"}};
}

CsvTable loads_table() {
  return {.name = "section-loads",
          .title = "Loads that are to be protected and are not, by section",
          .columns = {count_column("part", of_part), count_column("section_number", of_section),
                      count_column("number", "Load, from 1."),
                      words_column("load", "The load.", EmptyCell::empty),
                      words_column("nature", "Its nature."),
                      list_column("pantographs",
                                  std::string(pantographs_meaning) + ", that it is exposed to.")},
          .key = {"part", "section_number", "number"}};
}

CsvTable orders_table() {
  return {.name = "orders",
          .title = "What the driver does, in order",
          .columns = {count_column("part", of_part),
                      count_column("number", "Order of the part, from 1."),
                      km_column("at_km", "Where, chainage of the route."),
                      words_column("action", "What is done."),
                      {.name = "vehicle",
                       .kind = CellKind::whole,
                       .empty = EmptyCell::not_stated,
                       .meaning = "Vehicle it is about, where it is one."},
                      list_column("vehicles", "All vehicles it is about.", CellKind::whole),
                      list_column("pantographs", std::string(pantographs_meaning) + "."),
                      {"speed_kmh", CellKind::number, EmptyCell::not_stated,
                       "Speed that is ordered.", "km/h"},
                      {"power_percent", CellKind::whole, EmptyCell::not_stated,
                       "Greatest traction power.", "%"},
                      {"current_a", CellKind::number, EmptyCell::not_stated,
                       "Greatest current of the train.", "A"},
                      words_column("line", "Line it is on.", EmptyCell::not_stated),
                      km_column("line_km", "Kilometre of that line.", EmptyCell::not_stated),
                      words_column("landmark", "What the driver sees there.", EmptyCell::empty),
                      words_column("text", "The order in words."),
                      words_column("if_not_possible", "What is done where that cannot be.",
                                   EmptyCell::empty)},
          .key = {"part", "number"}};
}

/// Adds the entries of a list, each behind what names it.
void add_rows(const Json& entries, const Json& before, CsvTable& table) {
  int entry_number = 0;
  for (const Json& entry : entries) {
    Json row = before;
    row["number"] = ++entry_number;
    row.update(entry);
    table.rows.push_back(std::move(row));
  }
}

}  // namespace

std::vector<CsvTable> plan_tables(std::span<const Plan> parts) {
  CsvTable sections = sections_table();
  CsvTable lines = lines_table();
  CsvTable findings = findings_table();
  CsvTable values = values_table();
  CsvTable loads = loads_table();
  CsvTable orders = orders_table();
  int part_number = 0;
  for (const Plan& plan : parts) {
    const Json part{{"part", ++part_number}};
    const Json json = plan_to_json(plan);
    add_rows(json["sections"], part, sections);
    add_rows(json["instructions"], part, orders);
    int section_number = 0;
    for (const Json& section : json["sections"]) {
      const Json of{{"part", part_number}, {"section_number", ++section_number}};
      add_rows(section["lines"], of, lines);
      add_rows(section["findings"], of, findings);
      Json of_finding = of;
      int finding_number = 0;
      for (const Json& finding : section["findings"]) {
        of_finding["finding_number"] = ++finding_number;
        add_rows(finding["values"], of_finding, values);
      }
      add_rows(section["exposed_loads"], of, loads);
    }
  }
  return {std::move(sections), std::move(lines), std::move(findings),
          std::move(values),   std::move(loads), std::move(orders)};
}

CsvRemarks remarks_on(std::span<const Plan> parts) {
  return {.invented = std::ranges::any_of(parts, [](const Plan& plan) { return invented(plan); }),
          .thing = "plan"};
}

}  // namespace panup
