#include "files/read_speed_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "files/document.h"

namespace panup {

namespace {

constexpr std::size_t most_files = 200;
constexpr Range distance_range_m{1, 2000};
constexpr int greatest_seed = 999999;

std::vector<FileNamed> read_files(TomlTable& root, std::string_view key) {
  std::vector<FileNamed> files;
  const auto names = root.texts(key, Need::required);
  if (!names) {
    return files;
  }
  if (names->empty() || names->size() > most_files) {
    root.report_at(
        key, fmt::format("'{}' names {} files; expected 1 to {}", key, names->size(), most_files));
  }
  for (std::size_t i = 0; i < names->size(); ++i) {
    files.push_back({path_beside(root.file(), names->at(i)), root.place_of(key, i)});
    const auto same = std::ranges::find(files, files.back().path, &FileNamed::path);
    if (same != files.end() - 1) {
      root.report(files.back().place,
                  fmt::format("'{}' is named already, in line {}", names->at(i), same->place.line));
    }
  }
  return files;
}

/// Reports the first number that is not above the one before it.
template <typename Number>
void check_rising(TomlTable& root, std::string_view key, const std::vector<Number>& numbers) {
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (numbers[i] <= numbers[i - 1]) {
      root.report(root.place_of(key, i), fmt::format("{} comes after {}; the numbers of '{}' rise",
                                                     numbers[i], numbers[i - 1], key));
      return;
    }
  }
}

/// Both ends included, as far as the steps go.
std::vector<double> evenly(TomlTable& table) {
  const auto from = table.number("from_m", distance_range_m, Need::required);
  const auto to = table.number("to_m", distance_range_m, Need::required);
  const auto step = table.number("step_m", distance_range_m, Need::required);
  table.finish();
  if (!from || !to || !step) {
    return {};
  }
  if (*to < *from) {
    table.report_at("to_m", fmt::format("the distances end at {:g} m, before they begin at {:g} m",
                                        *to, *from));
    return {};
  }
  constexpr double rounding = 1e-9;
  const auto number = static_cast<std::size_t>((*to - *from) / *step + 1 + rounding);
  if (number > most_table_distances) {
    table.report_at(
        "step_m", fmt::format("there are {} distances; at most {}", number, most_table_distances));
    return {};
  }
  std::vector<double> distances;
  for (std::size_t i = 0; i < number; ++i) {
    distances.push_back(*from + static_cast<double>(i) * *step);
  }
  return distances;
}

void read_distances(TomlTable& root, SpeedTableJob& job) {
  const bool listed = root.has("distances_m");
  auto by_steps = root.table("distances");
  if (listed && root.has("distances")) {
    root.report_at("distances_m", "distances are given twice: by 'distances_m' and by [distances]");
  }
  if (listed) {
    const auto distances = root.numbers("distances_m", distance_range_m);
    if (distances && distances->empty()) {
      root.report_at("distances_m", "the list is empty; expected at least one distance");
    }
    job.distances_m = distances.value_or(std::vector<double>());
    if (job.distances_m.size() > most_table_distances) {
      root.report_at("distances_m", fmt::format("there are {} distances; at most {}",
                                                job.distances_m.size(), most_table_distances));
    }
    check_rising(root, "distances_m", job.distances_m);
  }
  if (by_steps) {
    job.distances_m = evenly(*by_steps);
  }
  const bool given = listed || root.has("distances");
  if (job.raised.empty()) {
    return;
  }
  const bool needed = job.raised.back() > 1;
  if (needed && !given) {
    root.report(root.place(),
                "key 'distances_m' is missing: the distances between one pantograph and the next, "
                "as in distances_m = [12, 24, 36]");
  } else if (!needed && given) {
    root.report_at(listed ? "distances_m" : "distances",
                   "one raised pantograph has no distances; 'raised' asks for no more than one");
  }
}

void check_size(TomlTable& root, const SpeedTableJob& job) {
  std::size_t of_each = 0;
  for (const int raised : job.raised) {
    of_each += raised == 1 ? 1 : job.distances_m.size();
  }
  const std::size_t rows = job.contact_lines.size() * job.pantographs.size() * of_each;
  if (rows > most_table_rows) {
    root.report(root.place(),
                fmt::format("the table would have {} rows; at most {}", rows, most_table_rows));
  }
}

}  // namespace

std::optional<SpeedTableJob> read_speed_table(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root = root_node ? root_of(*root_node, source.file, FileKind::speed_table, diagnostics)
                        : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  SpeedTableJob job;
  job.id = root->id("id", Need::required).value_or("");
  job.name = root->text("name").value_or(job.id);
  job.invented = root->flag("invented").value_or(false);
  job.contact_lines = read_files(*root, "contact_lines");
  job.pantographs = read_files(*root, "pantographs");
  job.supply = supply_from(*root, "system", Need::optional);
  if (!root->has("raised")) {
    root->report(root->place(),
                 "key 'raised' is missing: how many pantographs are raised, as in raised = [1, 2]");
  }
  const auto raised = root->wholes("raised", 1, 8);
  if (raised && raised->empty()) {
    root->report_at("raised", "the list is empty; expected at least one number");
  }
  job.raised = raised.value_or(std::vector<int>());
  check_rising(*root, "raised", job.raised);
  read_distances(*root, job);
  constexpr std::array<std::string_view, 3> ways{"both", "leading", "trailing"};
  const auto knuckle = root->word("knuckle", {ways.begin(), ways.end()});
  job.knuckle = *std::ranges::find(ways, knuckle.value_or("both"));
  job.up_to_kmh = root->number("up_to_kmh", {5, 500}, Need::required).value_or(0);
  job.temperature_c = root->number("temperature_c", {-60, 60});
  job.samples = root->whole("samples", 0, 1000).value_or(0);
  job.seed = root->whole("seed", 0, greatest_seed).value_or(1);
  root->finish();
  check_size(*root, job);
  return diagnostics.size() == mistakes ? std::optional(std::move(job)) : std::nullopt;
}

std::optional<SpeedTableJob> read_speed_table_file(const std::string& path,
                                                   Diagnostics& diagnostics,
                                                   const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_speed_table(*source, diagnostics) : std::nullopt;
}

}  // namespace panup
