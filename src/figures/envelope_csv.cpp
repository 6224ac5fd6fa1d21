#include <array>

#include "drawing/csv_table.h"
#include "figures/envelope.h"
#include "figures/permitted_columns.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

CsvColumn distance_number(std::string meaning) {
  return {.name = "distance_number", .kind = CellKind::whole, .meaning = std::move(meaning)};
}

CsvColumn spacing() {
  return {"spacing_m", CellKind::number, EmptyCell::never,
          "Distance between one raised pantograph and the next; 0: there is one.", "m"};
}

/// The fields of JSON that have a value of each distance.
constexpr std::array<const char*, 11> by_distance_fields{"permitted_speed_kmh",
                                                         "fails_at_kmh",
                                                         "edge_error_kmh",
                                                         "step_kmh",
                                                         "deciding_criterion",
                                                         "deciding_margin",
                                                         "deciding_text",
                                                         "deciding_pantograph",
                                                         "no_run",
                                                         "by_supports",
                                                         "warnings"};

CsvTable speeds_of(const Json& json, CsvTable& doubts) {
  CsvTable table{.name = "envelope",
                 .title = "Permitted speed over the distance between raised pantographs, computed",
                 .columns = {distance_number("Distance, from 1."), spacing()},
                 .key = {"distance_number"}};
  add_permitted_columns(table.columns);
  table.columns.push_back({.name = "samples_permitted_speed_kmh",
                           .kind = CellKind::number,
                           .empty = EmptyCell::empty,
                           .meaning = "Permitted speed of each sample.",
                           .unit = "km/h",
                           .is_list = true});
  for (std::size_t i = 0; i < json["spacings_m"].size(); ++i) {
    Json row{{"distance_number", i + 1}, {"spacing_m", json["spacings_m"][i]}};
    for (const char* const field : by_distance_fields) {
      row[field] = json[field][i];
    }
    if (!json["samples"].is_null()) {
      row["samples_permitted_speed_kmh"] = json["samples"]["permitted_speed_kmh"][i];
    }
    add_doubts(row["warnings"], Json{{"distance_number", i + 1}}, doubts);
    flatten_supports(row);
    table.rows.push_back(std::move(row));
  }
  return table;
}

CsvTable runs_of(const Json& json) {
  CsvTable table{
      .name = "envelope-runs",
      .title = "The runs of an envelope, by distance and speed",
      .columns =
          {distance_number("Distance, from 1, as in envelope.csv."),
           spacing(),
           {"speed_kmh", CellKind::number, EmptyCell::never, "Speed of the run.", "km/h"},
           {.name = "passes", .kind = CellKind::flag, .meaning = "All criteria are met."},
           {.name = "margin",
            .kind = CellKind::number,
            .meaning = "Of the rule that decides, as a share of its limit; below 0: it fails."},
           {.name = "criterion", .empty = EmptyCell::empty, .meaning = "Rule that decides."},
           {.name = "pantograph",
            .kind = CellKind::whole,
            .meaning = "Raised pantograph that decides, from the front, from 1; 0: the line."},
           {.name = "knuckle", .meaning = "The worse direction of running: leading or trailing."},
           {.name = "coarse", .kind = CellKind::flag, .meaning = "By a run in a longer step."}},
      .key = {"distance_number", "speed_kmh"}};
  for (std::size_t i = 0; i < json["spacings_m"].size(); ++i) {
    for (std::size_t k = 0; k < json["speeds_kmh"].size(); ++k) {
      table.rows.push_back({{"distance_number", i + 1},
                            {"spacing_m", json["spacings_m"][i]},
                            {"speed_kmh", json["speeds_kmh"][k]},
                            {"passes", json["passes"][i][k]},
                            {"margin", json["margins"][i][k]},
                            {"criterion", json["criteria_at"][i][k]},
                            {"pantograph", json["pantograph_at"][i][k]},
                            {"knuckle", json["knuckle_at"][i][k]},
                            {"coarse", json["coarse"][i][k]}});
    }
  }
  return table;
}

}  // namespace

std::vector<RenderedFile> envelope_csv_files(const EnvelopeReport& report) {
  const Json json = envelope_to_json(report);
  CsvTable doubts =
      doubts_table("envelope-doubts", "distance_number", "Distance, from 1, as in envelope.csv.");
  CsvTable speeds = speeds_of(json, doubts);
  return csv_files({std::move(speeds), runs_of(json), std::move(doubts)},
                   {.invented = report.envelope.invented, .thing = "result"});
}

}  // namespace panup
