#include "files/read_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "files/day_rows.h"
#include "files/document.h"
#include "files/named_files.h"
#include "files/read_consents.h"

namespace panup {

namespace {

/// What `panup day --out` writes beside the folders of trains.
bool is_taken(std::string_view name) {
  constexpr std::array<std::string_view, 4> names{"day.txt", "day.json", "cards.pdf",
                                                  "written.sha256"};
  const bool is_table =
      name.starts_with("day") && (name.ends_with(".csv") || name.ends_with(".csv-metadata.json"));
  return is_table || std::ranges::find(names, name) != names.end();
}

DayTrain read_row(TomlTable& entry, DayNumbers& numbers) {
  DayTrain train{.number = entry.text("number", Need::required).value_or(""),
                 .train = {},
                 .route = {},
                 .place = entry.place(),
                 .vehicles_place = entry.place_of("vehicles")};
  if (!train.number.empty()) {
    if (std::string wrong = numbers.wrong_with(train.number, entry.place_of("number"));
        !wrong.empty()) {
      entry.report_at("number", std::move(wrong));
    }
  }
  const bool has_run = entry.has("run");
  const Need need = has_run ? Need::optional : Need::required;
  train.run = read_file_name(entry, "run", Need::optional).value_or(FileNamed{});
  train.train = read_file_name(entry, "train", need).value_or(FileNamed{});
  train.route = read_file_name(entry, "route", need).value_or(FileNamed{});
  for (const std::string_view key : {"train", "route"}) {
    if (has_run && entry.has(key)) {
      entry.report_at(key, run_and_more_text(key));
    }
  }
  if (const auto time = entry.time_of_day("departure")) {
    train.departure = fmt::format("{:02}:{:02}:{:02}", time->hour, time->minute, time->second);
  }
  if (auto vehicles = entry.texts("vehicles")) {
    if (std::string wrong = wrong_with_vehicles(*vehicles); !wrong.empty()) {
      entry.report_at("vehicles", std::move(wrong));
    }
    train.vehicles = std::move(*vehicles);
  }
  train.conditions = read_file_name(entry, "conditions", Need::optional);
  entry.finish();
  return train;
}

}  // namespace

std::string run_and_more_text(std::string_view key) {
  return fmt::format("the run says which train runs which way: leave out '{}', or 'run'", key);
}

std::string folder_of_number(const std::string& number) {
  std::string folder = number;
  std::ranges::replace(folder, ' ', '_');
  return folder;
}

std::string DayNumbers::wrong_with(const std::string& number, const SourcePlace& place) {
  const bool clean = std::ranges::all_of(number, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.' || c == ' ';
  });
  if (!clean) {
    return fmt::format(
        "train number \"{}\": it is made of letters, digits, '-', '_', '.' and spaces, for a "
        "folder "
        "is called after it",
        number);
  }
  if (number.front() == ' ' || number.back() == ' ' || number.front() == '.') {
    return fmt::format(
        "train number \"{}\": it neither begins nor ends with a space, and does not "
        "begin with '.'",
        number);
  }
  if (number.size() > longest_train_number) {
    return fmt::format("the train number has {} characters; at most {}", number.size(),
                       longest_train_number);
  }
  const std::string folder = folder_of_number(number);
  if (is_taken(folder)) {
    return fmt::format("train number \"{}\": a file of the result is called so", number);
  }
  const auto [first, is_new] = by_folder_.emplace(folder, place);
  return is_new ? std::string()
                : fmt::format("train number \"{}\" stands here a second time, after {}:{}:{}{}",
                              number, first->second.file, first->second.line, first->second.column,
                              number == folder ? "" : "; a space counts as '_'");
}

std::string wrong_with_vehicles(const std::vector<std::string>& vehicles) {
  if (vehicles.empty()) {
    return "'vehicles' is empty; leave it out where the numbers of the train file hold";
  }
  for (auto vehicle = vehicles.begin(); vehicle != vehicles.end(); ++vehicle) {
    if (std::find(vehicles.begin(), vehicle, *vehicle) != vehicle) {
      return fmt::format("vehicle '{}' stands in the train twice", *vehicle);
    }
  }
  return {};
}

std::optional<DayFile> read_day(const SourceText& source, const FileSource& files,
                                Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root =
      root_node ? root_of(*root_node, source.file, FileKind::day, diagnostics) : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  DayFile day;
  if (const auto date = root->date("date", Need::required)) {
    day.date = day_text(*date);
  }
  day.name = root->text("name").value_or(day.date);
  day.invented = root->flag("invented").value_or(false);
  day.rules = read_file_names(*root, "rules");
  day.conditions = read_file_name(*root, "conditions", Need::optional);
  day.consents = read_file_names(*root, "consents");
  day.defects = read_file_names(*root, "defects");
  DayNumbers numbers;
  for (TomlTable& entry : root->tables("train")) {
    day.trains.push_back(read_row(entry, numbers));
  }
  day.table = read_file_name(*root, "table", Need::optional);
  if (day.table) {
    Diagnostics of_loading;
    if (const auto table = files.load(day.table->path, of_loading)) {
      read_day_table(*table, numbers, day.trains, diagnostics);
    }
    for (const Diagnostic& mistake : of_loading) {
      root->report(day.table->place, to_line(mistake));
    }
  }
  root->finish();
  if (day.trains.empty() && diagnostics.size() == mistakes) {
    root->report(
        root->place(),
        "the day has no train: each begins with [[train]], or 'table' names a file of them");
  }
  if (day.trains.size() > most_day_trains) {
    root->report(root->place(), fmt::format("the day has {} trains; at most {}", day.trains.size(),
                                            most_day_trains));
  }
  return diagnostics.size() == mistakes ? std::optional(std::move(day)) : std::nullopt;
}

std::optional<DayFile> read_day_file(const std::string& path, Diagnostics& diagnostics,
                                     const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_day(*source, files, diagnostics) : std::nullopt;
}

}  // namespace panup
