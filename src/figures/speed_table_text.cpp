#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/permitted_words.h"
#include "figures/sample_shares.h"
#include "figures/simulation_text_parts.h"
#include "figures/speed_table.h"

namespace panup {

namespace {

std::string head(const SpeedTableReport& report) {
  std::string out;
  if (report.invented) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_calculation_fact(out, "Table", plain(with_id(report.name, report.id)));
  for (const ToldLine& line : report.lines) {
    add_calculation_fact(
        out, "Contact line",
        fmt::format("{}; wave speed {:.0f} km/h, {:g} °C", plain(with_id(line.name, line.id)),
                    line.wave_speed_kmh, line.temperature_c));
  }
  for (const ToldPantograph& one : report.pantographs) {
    add_calculation_fact(
        out, "Pantograph",
        fmt::format("{}; static force {:g} N, {}", plain(with_id(one.name, one.id)),
                    one.static_force_n, knuckle_words(one.knuckles)));
  }
  add_calculation_fact(out, "Supply",
                       std::string(report.supply ? name_of(*report.supply) : "not stated"));
  add_calculation_fact(out, "Rules", fmt::format("{}", fmt::join(report.rule_books, ", then ")));
  return out;
}

std::string distance_figure(const SpeedTableRow& row) {
  return row.count > 1 ? fmt::format("{:g}", row.spacing_m) : "–";
}

/// "NV-140, hr-1950"
std::string pair_words(const SpeedTableReport& report, const SpeedTableRow& row) {
  return plain(
      fmt::format("{}, {}", report.lines[row.line].id, report.pantographs[row.pantograph].id));
}

/// "NV-140, hr-1950, 2 raised 12 m apart"
std::string row_words(const SpeedTableReport& report, const SpeedTableRow& row) {
  return fmt::format("{}, {} raised{}", pair_words(report, row), row.count,
                     row.count > 1 ? fmt::format(" {:g} m apart", row.spacing_m) : "");
}

/// The rows of each line and pantograph under their names.
std::string rows_table(const SpeedTableReport& report) {
  const std::vector<ToldShare> shares = told_shares(static_cast<std::size_t>(report.samples));
  std::vector<TableColumn> columns{{.heading = "raised", .right_aligned = true},
                                   {.heading = "m apart", .right_aligned = true},
                                   {.heading = "km/h", .right_aligned = true}};
  for (const ToldShare& share : shares) {
    columns.push_back({.heading = fmt::format("{:g} %", 100 * share.share), .right_aligned = true});
  }
  columns.push_back({.heading = "what decides"});
  std::string out =
      "\nPERMITTED SPEED in km/h, and what decides it at the first speed that fails\n";
  if (!shares.empty()) {
    out += "  %: the speed that so many of the samples pass\n";
  }
  const std::vector<SpeedTableRow>& all = report.table.rows;
  for (std::size_t from = 0; from < all.size();) {
    std::size_t to = from;
    std::vector<std::vector<std::string>> rows;
    for (; to < all.size() && all[to].line == all[from].line &&
           all[to].pantograph == all[from].pantograph;
         ++to) {
      const SpeedTableRow& row = all[to];
      std::vector<std::string> cells{std::to_string(row.count), distance_figure(row),
                                     speed_figure_or_none(row.permitted.speed_kmh)};
      for (const ToldShare& share : shares) {
        cells.push_back(speed_figure_or_none(speed_passed_by(row.samples_kmh, share.share)));
      }
      cells.push_back(plain(deciding_words(row.permitted)));
      rows.push_back(std::move(cells));
    }
    out +=
        "\n  " + pair_words(report, all[from]) + "\n" + text_table(columns, rows, 2, text_columns);
    from = to;
  }
  return out;
}

std::vector<std::string> warning_lines(const SpeedTableReport& report) {
  std::vector<std::string> lines;
  for (const SpeedTableRow& row : report.table.rows) {
    if (row.permitted.by_supports) {
      lines.push_back(row_words(report, row) + ": " +
                      in_words(*row.permitted.by_supports, report.lines[row.line].id));
    }
    for (const Warning& warning : row.permitted.warnings) {
      lines.push_back(row_words(report, row) + ": " + warning.text);
    }
  }
  return lines;
}

void add_scan_notes(std::vector<std::string>& notes, const SpeedTableReport& report) {
  const std::vector<SpeedTableRow>& rows = report.table.rows;
  if (rows.empty()) {
    return;
  }
  const PermittedSpeed& first = rows.front().permitted;
  double edge = 0;
  std::size_t judged = 0;
  std::size_t coarse = 0;
  bool apart = false;
  for (const SpeedTableRow& row : rows) {
    edge = std::max(edge, row.permitted.edge_error_kmh);
    judged += row.judged;
    coarse += row.coarse;
    apart = apart || row.count > 1;
  }
  notes.push_back(fmt::format(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} km/h, up to {:g} km/h or the first that fails, {}; nothing below {:g} "
      "km/h was computed, and nothing beyond the first that fails.{}",
      first.looked_from_kmh, first.looked_to_kmh, step_words(first.step_kmh), first.looked_from_kmh,
      edge_words(edge)));
  if (coarse > 0) {
    notes.push_back(coarse_note(
        fmt::format("{} of the {} speeds that rows stand on", coarse, judged), "that line"));
  }
  if (apart) {
    notes.push_back(only_these_distances_note());
  }
}

}  // namespace

std::vector<std::string> notes_of(const SpeedTableReport& report) {
  std::vector<std::string> notes;
  add_scan_notes(notes, report);
  for (const ToldLine& line : report.lines) {
    notes.push_back(source_note(line.name, line.source));
  }
  for (const ToldPantograph& one : report.pantographs) {
    notes.push_back(source_note(one.name, one.source));
  }
  for (const std::string& words : report.table.not_judged) {
    notes.push_back("Not judged: " + words);
  }
  if (report.samples > 0) {
    notes.push_back(fmt::format("Samples: {} of each row, seed {}, drawn evenly within: {}.",
                                report.samples, report.seed,
                                fmt::join(report.table.tolerances, "; ")));
  }
  notes.emplace_back("Which inputs a speed hangs on is not looked into; an envelope tells it.");
  add_closing_notes(notes);
  return notes;
}

std::string speed_table_to_text(const SpeedTableReport& report) {
  std::string out = head(report);
  out += rows_table(report);
  out += text_list("WARNINGS", warning_lines(report));
  out += text_list("CRITERIA in force", report.table.criteria);
  out += text_list("NOTES", notes_of(report));
  out += text_list("CAUTIONS", cautions("result"));
  out += made_from(report.inputs, report.program_version);
  return out;
}

}  // namespace panup
