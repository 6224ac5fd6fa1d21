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
  const Words& words = report.words;
  std::vector<CalculationFact> facts{{words.say("Table"), with_id(report.name, report.id)}};
  for (const ToldLine& line : report.lines) {
    facts.push_back({words.say("Contact line"),
                     words.say("{}; wave speed {:.0f} km/h, {:g} °C", with_id(line.name, line.id),
                               line.wave_speed_kmh, line.temperature_c)});
  }
  for (const ToldPantograph& one : report.pantographs) {
    facts.push_back({words.say("Pantograph"),
                     words.say("{}; static force {:g} N, {}", with_id(one.name, one.id),
                               one.static_force_n, knuckle_words(one.knuckles, words))});
  }
  facts.push_back({words.say("Supply"), supply_words(report.supply, words)});
  facts.push_back({words.say("Rules"), books_words(report.rule_books, words)});
  return invented_head(report.invented, words) + calculation_facts(facts);
}

std::string distance_figure(const SpeedTableRow& row, const Words& words) {
  return row.count > 1 ? words.say("{:g}", row.spacing_m) : "–";
}

/// "NV-140, hr-1950"
std::string pair_words(const SpeedTableReport& report, const SpeedTableRow& row) {
  return plain(
      fmt::format("{}, {}", report.lines[row.line].id, report.pantographs[row.pantograph].id));
}

/// "NV-140, hr-1950, 2 raised 12 m apart"
std::string row_words(const SpeedTableReport& report, const SpeedTableRow& row) {
  const Words& words = report.words;
  return row.count > 1 ? words.say("{}, {} raised {:g} m apart", pair_words(report, row), row.count,
                                   row.spacing_m)
                       : words.say("{}, {} raised", pair_words(report, row), row.count);
}

/// The rows of each line and pantograph under their names.
std::string rows_table(const SpeedTableReport& report) {
  const Words& words = report.words;
  const std::vector<ToldShare> shares =
      told_shares(static_cast<std::size_t>(report.samples), words);
  std::vector<TableColumn> columns{{.heading = words.say("raised"), .right_aligned = true},
                                   {.heading = words.say("m apart"), .right_aligned = true},
                                   {.heading = words.say("km/h"), .right_aligned = true}};
  for (const ToldShare& share : shares) {
    columns.push_back({.heading = words.say("{:g} %", 100 * share.share), .right_aligned = true});
  }
  columns.push_back({.heading = words.say("what decides")});
  std::string out =
      "\n" +
      words.say("PERMITTED SPEED in km/h, and what decides it at the first speed that fails") +
      "\n";
  if (!shares.empty()) {
    out += "  " + words.say("%: the speed that so many of the samples pass") + "\n";
  }
  const std::vector<SpeedTableRow>& all = report.table.rows;
  for (std::size_t from = 0; from < all.size();) {
    std::size_t to = from;
    std::vector<std::vector<std::string>> rows;
    for (; to < all.size() && all[to].line == all[from].line &&
           all[to].pantograph == all[from].pantograph;
         ++to) {
      const SpeedTableRow& row = all[to];
      std::vector<std::string> cells{std::to_string(row.count), distance_figure(row, words),
                                     speed_figure_or_none(row.permitted.speed_kmh, words)};
      for (const ToldShare& share : shares) {
        cells.push_back(speed_figure_or_none(speed_passed_by(row.samples_kmh, share.share), words));
      }
      cells.push_back(plain(deciding_words(row.permitted, words)));
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
      lines.push_back(
          row_words(report, row) + ": " +
          in_words(*row.permitted.by_supports, report.lines[row.line].id, report.words));
    }
    for (const Warning& warning : row.permitted.warnings) {
      lines.push_back(row_words(report, row) + ": " + warning.text.said(report.words));
    }
  }
  return lines;
}

void add_scan_notes(std::vector<std::string>& notes, const SpeedTableReport& report) {
  const Words& words = report.words;
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
  notes.push_back(words.say(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} km/h, up to {:g} km/h or the first that fails, {}; nothing below {:g} "
      "km/h was computed, and nothing beyond the first that fails.{}",
      first.looked_from_kmh, first.looked_to_kmh, step_words(first.step_kmh, words),
      first.looked_from_kmh, edge_words(edge, words)));
  if (coarse > 0) {
    notes.push_back(coarse_note(
        words.say("{} of the {} speeds that rows stand on were decided by a run in a longer step: "
                  "what they leave to every limit, or lack of one, is more than such a run is off "
                  "on that line",
                  coarse, judged),
        words));
  }
  if (apart) {
    notes.push_back(only_these_distances_note(words));
  }
}

}  // namespace

std::vector<std::string> notes_of(const SpeedTableReport& report) {
  const Words& words = report.words;
  std::vector<std::string> notes;
  add_scan_notes(notes, report);
  for (const ToldLine& line : report.lines) {
    notes.push_back(source_note(line.name, line.source, words));
  }
  for (const ToldPantograph& one : report.pantographs) {
    notes.push_back(source_note(one.name, one.source, words));
  }
  for (const std::string& what : report.table.not_judged) {
    notes.push_back(words.say("Not judged: {}", what));
  }
  if (report.samples > 0) {
    notes.push_back(words.say("Samples: {} of each row, seed {}, drawn evenly within: {}.",
                              report.samples, report.seed,
                              fmt::format("{}", fmt::join(report.table.tolerances, "; "))));
  }
  notes.push_back(
      words.say("Which inputs a speed hangs on is not looked into; an envelope tells it."));
  add_closing_notes(notes, words);
  return notes;
}

std::string speed_table_to_text(const SpeedTableReport& report) {
  const Words& words = report.words;
  std::string out = head(report);
  out += rows_table(report);
  out += text_list(words.say("WARNINGS"), warning_lines(report));
  out += text_list(words.say("CRITERIA in force"), report.table.criteria);
  out += text_list(words.say("NOTES"), notes_of(report));
  out += end_of_text(report.inputs, report.program_version, words);
  return out;
}

}  // namespace panup
