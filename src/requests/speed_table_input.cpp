#include "requests/speed_table_input.h"

#include <fmt/format.h>

#include <map>
#include <utility>

#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "requests/mechanics_input.h"
#include "requests/plan_input.h"

namespace panup {

namespace {

/// Rows are told apart by the ids of line and model.
void report_same_id(std::string_view what, const std::string& id, const FileNamed& named,
                    std::map<std::string, std::string>& path_of_id, Diagnostics& diagnostics) {
  const auto [found, is_new] = path_of_id.try_emplace(id, named.path);
  if (!is_new) {
    diagnostics.push_back(
        {named.place, fmt::format("{} '{}' is in {} too; rows of the table are told apart by it",
                                  what, id, found->second)});
  }
}

void read_lines(SpeedTableInput& input, const FileSource& files, Diagnostics& diagnostics) {
  std::map<std::string, std::string> path_of_id;
  for (const FileNamed& named : input.job.contact_lines) {
    input.files.push_back({"line", named.path});
    if (auto line = read_contact_line_file(named.path, diagnostics, files)) {
      report_same_id("contact line", line->id, named, path_of_id, diagnostics);
      input.lines.push_back(std::move(*line));
    }
  }
}

void read_models(SpeedTableInput& input, const FileSource& files, Diagnostics& diagnostics) {
  std::map<std::string, std::string> path_of_id;
  for (const FileNamed& named : input.job.pantographs) {
    input.files.push_back({"pantograph", named.path});
    auto model = read_pantograph_model_file(named.path, diagnostics, files);
    if (!model) {
      continue;
    }
    report_same_id("pantograph model", model->id, named, path_of_id, diagnostics);
    const auto force = static_force_of(*model, input.job.supply);
    if (!force) {
      diagnostics.push_back(
          {named.place, no_static_force(*model, input.job.supply, "with 'system'")});
    }
    std::vector<Knuckle> knuckles = knuckles_named(input.job.knuckle, *model);
    input.pantographs.push_back({std::move(*model), force.value_or(0), std::move(knuckles)});
  }
}

}  // namespace

std::optional<SpeedTableInput> read_speed_table_input(const std::string& path,
                                                      const std::vector<std::string>& rules,
                                                      const FileSource& files,
                                                      Diagnostics& diagnostics,
                                                      const Words& words) {
  const std::size_t mistakes = diagnostics.size();
  auto job = read_speed_table_file(path, diagnostics, files);
  auto book = read_rule_books(rules, std::string(), diagnostics, files);
  SpeedTableInput input;
  input.files.push_back({"job", path});
  if (job) {
    input.job = std::move(*job);
    read_lines(input, files, diagnostics);
    read_models(input, files, diagnostics);
  }
  if (job && book) {
    for (std::string& missing : rules_missing(*book, input.job.samples > 0)) {
      diagnostics.push_back({{.file = path}, std::move(missing)});
    }
  }
  if (!book || diagnostics.size() != mistakes) {
    return std::nullopt;
  }
  input.rules = said_in(std::move(*book), words);
  for (const std::string& of_rules : rules) {
    input.files.push_back({"rule book", of_rules});
  }
  return input;
}

SpeedTableRequest request_of(const SpeedTableInput& input) {
  const SpeedTableJob& job = input.job;
  SpeedTableRequest request;
  for (const ContactLine& line : input.lines) {
    request.lines.push_back(&line);
  }
  request.pantographs = input.pantographs;
  request.supply = job.supply;
  request.counts = job.raised;
  request.spacings_m = job.distances_m;
  request.to_kmh = job.up_to_kmh;
  if (job.temperature_c) {
    request.settings.weather_given = true;
    request.settings.weather.temperature_c = *job.temperature_c;
  }
  request.rules = &input.rules;
  request.samples = job.samples;
  request.seed = static_cast<std::uint64_t>(job.seed);
  return request;
}

SpeedTableReport report_of(const SpeedTableInput& input, SpeedTable table,
                           std::string_view program_version) {
  const SpeedTableJob& job = input.job;
  SpeedTableReport report;
  report.table = std::move(table);
  report.id = job.id;
  report.name = job.name;
  report.invented = job.invented;
  for (std::size_t i = 0; i < input.lines.size(); ++i) {
    const ContactLine& line = input.lines[i];
    report.lines.push_back({line.id, line.name, line.source, line.invented,
                            report.table.wave_speeds_kmh[i],
                            job.temperature_c.value_or(line.reference_temperature_c)});
    report.invented = report.invented || line.invented;
  }
  for (const TablePantograph& one : input.pantographs) {
    report.pantographs.push_back({one.model.id, one.model.name, one.model.source,
                                  one.model.invented, one.static_force_n, one.knuckles});
    report.invented = report.invented || one.model.invented;
  }
  report.supply = job.supply;
  report.up_to_kmh = job.up_to_kmh;
  report.samples = job.samples;
  report.seed = job.seed;
  report.inputs = input.files;
  report.rule_books = input.rules.names;
  report.program_version = program_version;
  report.words = input.rules.words;
  return report;
}

}  // namespace panup
