#include "files/read_measured_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "files/document.h"

namespace panup {

namespace {

constexpr Range chainage_range_m{-1e8, 1e8};
constexpr Range cutoff_range_hz{1, 10000};
constexpr int last_line_of_heading = 10000;
constexpr double rounding_m = 1e-6;

/// A key that names a column, and what its values are multiplied by.
struct ColumnKey {
  std::string_view key;
  double factor;
};

/// The column named by one of two keys, which differ in the unit.
std::optional<RecordColumn> read_column(TomlTable& table, const std::array<ColumnKey, 2>& keys) {
  std::optional<RecordColumn> column;
  for (const ColumnKey& one : keys) {
    const auto heading = table.text(one.key);
    if (!heading) {
      continue;
    }
    if (column) {
      table.report_at(one.key, fmt::format("'{}' and '{}' are both given; one of them names the "
                                           "column",
                                           keys[0].key, keys[1].key));
    }
    column = RecordColumn{*heading, one.factor};
  }
  return column;
}

void read_columns(TomlTable& root, MeasuredRecord& record) {
  auto table = root.table("column");
  if (!table) {
    root.report(root.place(),
                "table [column] is missing: it says which column of the rows has what, as in "
                "force_n = \"force\"");
    return;
  }
  RecordColumns& columns = record.columns;
  columns.chainage = read_column(*table, {{{"chainage_m", 1}, {"chainage_km", 1000}}});
  columns.time = read_column(*table, {{{"time_s", 1}, {"time_ms", 0.001}}});
  columns.speed = read_column(*table, {{{"speed_kmh", 1}, {"speed_m_per_s", 3.6}}});
  const auto force = read_column(*table, {{{"force_n", 1}, {"force_kn", 1000}}});
  if (const auto pantograph = table->text("pantograph")) {
    columns.pantograph = RecordColumn{*pantograph, 1};
  }
  if (force) {
    columns.force = *force;
  } else if (!table->has("force_n") && !table->has("force_kn")) {
    table->report(table->place(),
                  "no column has the force: 'force_n' or 'force_kn' names its heading");
  }
  const bool chainage_named = table->has("chainage_m") || table->has("chainage_km");
  if (!chainage_named && !columns.time) {
    table->report(table->place(),
                  "no column says where the rows are: 'chainage_m' or 'chainage_km' names its "
                  "heading, or 'time_s' or 'time_ms', and the speed gives the way");
  }
  table->finish();
}

/// What is asked of columns and of the record together.
void check_speed_and_steps(TomlTable& root, MeasuredRecord& record) {
  const bool has_column = record.columns.speed.has_value();
  if (has_column && record.speed_kmh) {
    root.report_at("speed_kmh", "a column has the speed; 'speed_kmh' is for records without one");
  }
  if (!has_column && !record.speed_kmh && !root.has("speed_kmh")) {
    root.report(root.place(),
                "the speed is not known: name its column in [column], or give 'speed_kmh'");
  }
  const auto by_m = root.number("sampled_every_m", {0.001, 5});
  const auto by_ms = root.number("sampled_every_ms", {0.05, 200});
  const bool both = root.has("sampled_every_m") && root.has("sampled_every_ms");
  if (both || (!root.has("sampled_every_m") && !root.has("sampled_every_ms"))) {
    root.report(both ? root.place_of("sampled_every_ms") : root.place(),
                fmt::format("{}; give one of 'sampled_every_m' and 'sampled_every_ms': wider steps "
                            "are gaps",
                            both ? "both ways of sampling are given"
                                 : "how far the rows are apart is not stated"));
    return;
  }
  if (by_ms && !record.columns.time) {
    root.report_at("sampled_every_ms",
                   "rows sampled by time need a column of the time, 'time_s' or 'time_ms' in "
                   "[column]");
  }
  record.sampled_every_m = by_m.value_or(0);
  record.sampled_every_s = by_ms.value_or(0) / 1000;
}

void read_filter(TomlTable& root, MeasuredRecord& record) {
  record.recorded_low_pass_hz = root.number("recorded_low_pass_hz", cutoff_range_hz);
  const bool unfiltered = root.flag("recorded_unfiltered").value_or(false);
  const bool filtered = root.has("recorded_low_pass_hz");
  if (unfiltered == filtered) {
    root.report(
        filtered ? root.place_of("recorded_unfiltered") : root.place(),
        fmt::format("{}; state 'recorded_low_pass_hz', the filter's cut-off, or "
                    "'recorded_unfiltered = true'",
                    filtered ? "a record is filtered or it is not"
                             : "the filter that the force was recorded with is not stated"));
  }
}

void read_layout(TomlTable& root, RecordLayout& layout) {
  const auto separator = root.word("separator", {",", ";", "tab"});
  const auto decimal = root.word("decimal", {".", ","});
  if (separator) {
    layout.separator = *separator == "tab" ? '\t' : separator->front();
  }
  if (decimal) {
    layout.decimal = decimal->front();
  }
  if (layout.decimal == ',' && layout.separator == ',') {
    root.report_at("decimal", "cells cannot be separated by the comma that divides decimals");
  }
  if (layout.decimal == ',' && layout.separator == 0) {
    layout.separator = ';';
  }
  layout.heading_line = root.whole("heading_line", 1, last_line_of_heading).value_or(1);
  const auto rows_from = root.whole("rows_from_line", 2, last_line_of_heading + 1);
  layout.rows_from_line = rows_from.value_or(layout.heading_line + 1);
  if (rows_from && *rows_from <= layout.heading_line) {
    root.report_at("rows_from_line", fmt::format("rows come after the heading, which is line {}",
                                                 layout.heading_line));
  }
  if (const auto missing = root.texts("missing")) {
    layout.missing.insert(layout.missing.end(), missing->begin(), missing->end());
  }
  layout.leave_out_bad_rows = root.flag("leave_out_bad_rows").value_or(false);
}

void read_runs(TomlTable& root, MeasuredRecord& record) {
  IdPlaces seen;
  for (TomlTable& entry : root.tables("run", Need::required)) {
    RecordRun run;
    run.file = path_beside(entry.file(), entry.text("file", Need::required));
    const auto id = entry.id("id", Need::required);
    if (id) {
      run.id = *id;
      report_if_seen(entry, *id, seen);
    }
    const auto begins = entry.number("begins_at_m", chainage_range_m);
    run.begins_at_m = begins.value_or(0);
    if (begins && record.columns.chainage) {
      entry.report_at("begins_at_m", "a column has the chainage; this is for records without one");
    }
    entry.finish();
    record.runs.push_back(std::move(run));
  }
}

void read_pantographs(TomlTable& root, MeasuredRecord& record) {
  IdPlaces seen;
  double behind_m = 0;
  for (TomlTable& entry : root.tables("pantograph", Need::required)) {
    RecordedPantograph one;
    // As it stands in the rows, which know no ids.
    one.id = entry.text("id", Need::required).value_or("");
    if (!one.id.empty()) {
      report_if_seen(entry, one.id, seen);
    }
    one.measured = entry.flag("measured").value_or(true);
    one.model = path_beside(entry.file(), entry.text("model"));
    one.knuckle = entry.word("knuckle", {"leading", "trailing"}).value_or("leading") == "trailing"
                      ? Knuckle::trailing
                      : Knuckle::leading;
    const auto behind = entry.number("behind_first_m", {0, 2000});
    one.behind_first_m = behind.value_or(0);
    const bool first = record.pantographs.empty();
    if (first && one.behind_first_m > 0) {
      entry.report_at("behind_first_m", "this is the first pantograph; it is 0 here");
    } else if (!first && !entry.has("behind_first_m")) {
      entry.report(entry.place(),
                   "key 'behind_first_m' is missing: the distance behind the first "
                   "pantograph in m");
    } else if (!first && behind && *behind < behind_m + 1) {
      entry.report_at("behind_first_m",
                      fmt::format("'behind_first_m' is {:g}; pantographs come first in front, each "
                                  "1 m or more behind the one before, which is at {:g}",
                                  *behind, behind_m));
    }
    behind_m = one.behind_first_m;
    entry.finish();
    record.pantographs.push_back(std::move(one));
  }
  constexpr std::size_t most = 8;
  if (record.pantographs.size() > most) {
    root.report_at("pantograph", fmt::format("there are {} pantographs; at most {}",
                                             record.pantographs.size(), most));
  }
  const auto measured = std::ranges::count(record.pantographs, true, &RecordedPantograph::measured);
  if (measured == 0 && !record.pantographs.empty()) {
    root.report_at("pantograph", "of none of the pantographs force was measured");
  }
  if (measured > 1 && !record.columns.pantograph) {
    root.report_at(
        "pantograph",
        fmt::format("force of {} pantographs was measured; 'pantograph' in [column] names "
                    "the column that says whose a row is",
                    measured));
  }
}

/// Supports of a tension length: spans one by one, or alike.
void read_spans(TomlTable& entry, TensionLength& length) {
  const auto each = entry.numbers("spans_m", {5, 200});
  const auto alike = entry.number("span_m", {5, 200});
  const auto number = entry.whole("spans", 1, 500);
  if (entry.has("spans_m") == entry.has("span_m")) {
    entry.report(entry.place(),
                 "give the lengths of its spans: 'spans_m' for each, or 'span_m' and their number "
                 "'spans' where all are alike");
    return;
  }
  if (entry.has("spans_m") == entry.has("spans")) {
    entry.report(entry.place(), entry.has("spans")
                                    ? "'spans' is for spans that are alike, with 'span_m'"
                                    : "'spans' is missing: how many spans there are");
    return;
  }
  std::vector<double> spans = each.value_or(std::vector<double>());
  if (alike && number) {
    spans.assign(static_cast<std::size_t>(*number), *alike);
  }
  for (const double span : spans) {
    length.supports_m.push_back(length.supports_m.back() + span);
  }
}

void read_tension_lengths(TomlTable& root, MeasuredRecord& record) {
  IdPlaces seen;
  for (TomlTable& entry : root.tables("tension_length")) {
    TensionLength length;
    length.id = entry.text("id", Need::required).value_or("");
    if (!length.id.empty()) {
      report_if_seen(entry, length.id, seen);
    }
    const auto from = entry.number("from_m", chainage_range_m, Need::required);
    length.supports_m.push_back(from.value_or(0));
    read_spans(entry, length);
    entry.finish();
    const bool sound = from && length.supports_m.size() > 1;
    const auto* const before =
        record.tension_lengths.empty() ? nullptr : &record.tension_lengths.back();
    if (sound && before != nullptr && length.from_m() < before->to_m() - rounding_m) {
      entry.report_at("from_m", fmt::format("it begins at {:.9g} m, before '{}' ends at {:.9g} m; "
                                            "they come by rising chainage, none over another",
                                            length.from_m(), before->id, before->to_m()));
    }
    if (sound) {
      record.tension_lengths.push_back(std::move(length));
    }
  }
}

}  // namespace

std::optional<MeasuredRecord> read_measured_record(const SourceText& source,
                                                   Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root = root_node ? root_of(*root_node, source.file, FileKind::measured_force, diagnostics)
                        : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  MeasuredRecord record;
  record.id = root->id("id", Need::required).value_or("");
  record.name = root->text("name").value_or(record.id);
  record.invented = root->flag("invented").value_or(false);
  record.source = root->text("source").value_or("");
  record.supply = supply_from(*root, "system", Need::optional);
  record.speed_kmh = root->number("speed_kmh", {least_measured_speed_kmh, 600});
  record.loss_at_or_below_n = root->number("loss_at_or_below_n", {0, 30}).value_or(0);
  read_filter(*root, record);
  read_columns(*root, record);
  check_speed_and_steps(*root, record);
  read_layout(*root, record.layout);
  read_runs(*root, record);
  read_pantographs(*root, record);
  read_tension_lengths(*root, record);
  record.contact_line = path_beside(source.file, root->text("contact_line"));
  record.contact_line_at_m = root->number("contact_line_at_m", chainage_range_m);
  if (record.contact_line_at_m && record.contact_line.empty()) {
    root->report_at("contact_line_at_m", "no contact line is named; 'contact_line' names its file");
  }
  root->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(record)) : std::nullopt;
}

std::optional<MeasuredRecord> read_measured_record_file(const std::string& path,
                                                        Diagnostics& diagnostics,
                                                        const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_measured_record(*source, diagnostics) : std::nullopt;
}

}  // namespace panup
