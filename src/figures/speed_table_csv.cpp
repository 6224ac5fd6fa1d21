#include <fmt/format.h>

#include "drawing/csv_table.h"
#include "figures/permitted_columns.h"
#include "figures/sample_shares.h"
#include "figures/speed_table.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::string share_heading(const ToldShare& share) {
  return fmt::format("passed_by_{:g}_percent_of_samples_kmh", 100 * share.share);
}

std::vector<CsvColumn> row_columns(const std::vector<ToldShare>& shares) {
  std::vector<CsvColumn> columns{
      {.name = "row", .kind = CellKind::whole, .meaning = "Row of the table, from 1."},
      {.name = "line", .meaning = "Id of the contact line."},
      {.name = "pantograph", .meaning = "Id of the pantograph model."},
      {.name = "count", .kind = CellKind::whole, .meaning = "Raised pantographs."},
      {"distance_m", CellKind::number, EmptyCell::not_stated,
       "Distance between one raised pantograph and the next; of one there is none.", "m"}};
  add_permitted_columns(columns);
  columns.push_back({.name = "deciding_knuckle",
                     .meaning = "Direction of running that decides: leading or trailing."});
  columns.push_back({.name = "speeds_judged",
                     .kind = CellKind::whole,
                     .meaning = "Speeds that were judged, in the direction that decides."});
  columns.push_back({.name = "speeds_judged_coarse",
                     .kind = CellKind::whole,
                     .meaning = "Of these, by a run in a longer step."});
  columns.push_back({.name = "samples_permitted_speed_kmh",
                     .kind = CellKind::number,
                     .empty = EmptyCell::empty,
                     .meaning = "Permitted speed of each sample.",
                     .unit = "km/h",
                     .is_list = true});
  for (const ToldShare& share : shares) {
    columns.push_back({share_heading(share), CellKind::number, EmptyCell::never,
                       "The greatest speed that so many of the samples pass.", "km/h"});
  }
  columns.push_back({.name = "invented",
                     .kind = CellKind::flag,
                     .meaning = "The line or the pantograph is demo data."});
  return columns;
}

}  // namespace

std::vector<CsvTable> speed_tables(const SpeedTableReport& report) {
  const std::vector<ToldShare> shares =
      told_shares(static_cast<std::size_t>(report.samples), report.words);
  CsvTable table{.name = "speeds",
                 .title = "Permitted speeds of raised pantographs on contact lines, computed",
                 .columns = row_columns(shares),
                 .key = {"row"}};
  CsvTable doubts = doubts_table("speeds-doubts", "row", "Row of speeds.csv.");
  const Json json = speed_table_to_json(report);
  for (std::size_t i = 0; i < report.table.rows.size(); ++i) {
    const SpeedTableRow& of = report.table.rows[i];
    Json row{{"row", i + 1}};
    row.update(json["rows"][i]);
    for (const ToldShare& share : shares) {
      row[share_heading(share)] = speed_passed_by(of.samples_kmh, share.share);
    }
    row["invented"] = report.lines[of.line].invented || report.pantographs[of.pantograph].invented;
    add_doubts(row["warnings"], Json{{"row", i + 1}}, doubts);
    flatten_supports(row);
    table.rows.push_back(std::move(row));
  }
  return {std::move(table), std::move(doubts)};
}

std::vector<RenderedFile> speed_table_csv_files(const SpeedTableReport& report) {
  return csv_files(speed_tables(report), {.invented = report.invented, .thing = "result"});
}

}  // namespace panup
