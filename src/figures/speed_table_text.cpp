#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
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
    const std::string_view knuckle =
        one.knuckles.size() > 1 ? "knuckle leading or trailing, whichever is worse"
        : one.knuckles.front() == Knuckle::leading ? "knuckle leading"
                                                   : "knuckle trailing";
    add_calculation_fact(
        out, "Pantograph",
        fmt::format("{}; static force {:g} N, {}", plain(with_id(one.name, one.id)),
                    one.static_force_n, knuckle));
  }
  add_calculation_fact(out, "Supply",
                       std::string(report.supply ? name_of(*report.supply) : "not stated"));
  add_calculation_fact(out, "Rules", fmt::format("{}", fmt::join(report.rule_books, ", then ")));
  return out;
}

std::string deciding(const PermittedSpeed& speed) {
  const std::string whose =
      speed.pantograph > 0 ? fmt::format("pantograph {}, ", speed.pantograph) : std::string();
  if (speed.refused) {
    return fmt::format("at {:g} km/h no run: {}", *speed.fails_at_kmh, speed.text);
  }
  return speed.fails_at_kmh ? fmt::format("at {:g} km/h {}{} ({})", *speed.fails_at_kmh, whose,
                                          speed.text, speed.criterion)
                            : fmt::format("all pass; least margin {:.0f} %: {}{} ({})",
                                          100 * speed.margin, whose, speed.text, speed.criterion);
}

std::string distance_figure(const SpeedTableRow& row) {
  return row.count > 1 ? fmt::format("{:g}", row.spacing_m) : "–";
}

std::string speed_figure_or_none(double speed_kmh) {
  return speed_kmh > 0 ? fmt::format("{:g}", speed_kmh) : "none";
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
      cells.push_back(plain(deciding(row.permitted)));
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

void add_source(std::vector<std::string>& notes, const std::string& name,
                const std::string& source) {
  notes.push_back(
      source.empty() ? fmt::format("The file of {} does not say where its figures come from.", name)
                     : fmt::format("The figures of {}: {}.", name, source));
}

/// As figures are read: no more than two decimals.
double rounded(double value) { return std::round(100 * value) / 100; }

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
  std::string scan = fmt::format(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} km/h, up to {:g} km/h or the first that fails, in steps of {:g} km/h, "
      "closer where margins are small; nothing below {:g} km/h was computed, and nothing beyond "
      "the first that fails.",
      first.looked_from_kmh, first.looked_to_kmh, rounded(first.step_kmh), first.looked_from_kmh);
  if (edge > 0) {
    scan += fmt::format(" The edge between it and the first speed that fails is at most {:g} km/h.",
                        rounded(edge));
  }
  notes.push_back(std::move(scan));
  if (coarse > 0) {
    notes.push_back(fmt::format(
        "{} of the {} speeds that rows stand on were decided by a run in a longer step: what they "
        "leave to every limit, or lack of one, is more than such a run is off on that line, as "
        "pairs of runs have shown. Every permitted speed, and the first that fails above it, was "
        "run in the step of the rule book.",
        coarse, judged));
  }
  if (apart) {
    notes.emplace_back(
        "Only the distances given were computed: between two of them a distance may permit less "
        "than both.");
  }
}

}  // namespace

std::vector<std::string> notes_of(const SpeedTableReport& report) {
  std::vector<std::string> notes;
  add_scan_notes(notes, report);
  for (const ToldLine& line : report.lines) {
    add_source(notes, line.name, line.source);
  }
  for (const ToldPantograph& one : report.pantographs) {
    add_source(notes, one.name, one.source);
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
  notes.emplace_back(
      "A computed result is no permission: what the infrastructure manager's records say goes "
      "before it, and where they say nothing it is evidence for a consent, and no consent.");
  notes.emplace_back(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not in it. Computed contact loss is not the arcing NQ that is measured.");
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
