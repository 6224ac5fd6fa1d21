#include <fmt/format.h>

#include <cmath>

#include "cli/commands.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "requests/speed_table_input.h"

namespace panup {

namespace {

struct SpeedsOptions {
  CommonOptions common;
  KeptRunsOptions kept;
  std::string job;
  std::vector<std::string> rules;
  bool cost = false;
  std::string out;
  std::string language = "en";
};

/// "2,400"; of less than ten, "0.4".
std::string seconds_figure(double seconds) {
  constexpr double few = 9.95;
  if (seconds > 0 && seconds < few) {
    return fmt::format("{:.1f}", seconds);
  }
  const std::string digits = fmt::format("{}", std::llround(seconds));
  std::string figure;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    figure += i > 0 && (digits.size() - i) % 3 == 0 ? "," : "";
    figure += digits[i];
  }
  return figure;
}

void say_cost(const TableCost& cost) {
  if (cost.computed == 0 && cost.runs_left == 0) {
    say("panup: all {} runs are kept already: 0 core seconds\n", cost.kept);
    return;
  }
  std::string parts;
  if (cost.kept > 0) {
    parts += fmt::format("; {} runs are kept already", cost.kept);
  }
  parts += fmt::format("; {} runs, which tell it, are done", cost.computed);
  if (cost.runs_left > 0) {
    parts += fmt::format(", about {} core seconds are left", seconds_figure(cost.core_s_left));
  }
  say("panup: about {} runs, about {} core seconds{}\n", cost.runs(), seconds_figure(cost.core_s()),
      parts);
}

int write_results(const SpeedsOptions& options, const SpeedTableReport& report,
                  const std::string& text, const std::string& json) {
  std::vector<std::string> inputs = paths_of(report.inputs);
  if (!options.kept.store.empty()) {
    inputs.push_back(options.kept.store);
  }
  std::vector<OutputFile> files{{"speeds.txt", text}, {"speeds.json", json}};
  add_rendered(speed_table_csv_files(report), files);
  return write_out(options.out, files, inputs);
}

int run_speeds(const SpeedsOptions& options) {
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  const auto input =
      read_speed_table_input(options.job, options.rules, files_on_disk(), diagnostics, words);
  if (print_diagnostics(diagnostics) || !input) {
    return exit_wrong_input;
  }
  auto kept = KeptRuns::open(options.kept, options.common.jobs);
  if (!kept) {
    return exit_wrong_input;
  }
  bool told = false;
  const CostKnown known = [&](const TableCost& cost) {
    told = true;
    if (kept->speaks()) {
      kept->clear_progress();
      say_cost(cost);
    }
    return !options.cost;
  };
  auto table = compute_speed_table(request_of(*input),
                                   {kept->source(), [&kept] { return kept->spent(); }}, known);
  if (options.cost && told) {
    return exit_done;
  }
  if (!table) {
    return kept->say_stopped();
  }
  if (!kept->speaks()) {
    return exit_done;
  }
  const RunsSpent spent = kept->spent();
  kept->clear_progress();
  say("panup: {} runs were computed, in {} core seconds\n", spent.runs,
      seconds_figure(spent.core_s));
  const bool any = std::ranges::any_of(
      table->rows, [](const SpeedTableRow& row) { return row.permitted.speed_kmh > 0; });
  const SpeedTableReport report = report_of(*input, std::move(*table), program_version);
  const std::string text = speed_table_to_text(report);
  const std::string json = json_text(speed_table_to_json(report));
  if (!options.out.empty()) {
    if (const int status = write_results(options, report, text, json); status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json : text, any ? exit_done : exit_answer_no);
}

}  // namespace

void add_speeds_command(CLI::App& program, int& status) {
  auto options = std::make_shared<SpeedsOptions>();
  CLI::App* const command = program.add_subcommand(
      "speeds", "table of permitted speeds of many lines and pantographs, by the mechanics");
  command
      ->add_option("JOB", options->job,
                   "lines, pantographs, distances and samples of the table (kind \"speed table\")")
      ->required()
      ->type_name("FILE");
  command
      ->add_option("--rules", options->rules,
                   "a rule book, after the built-in one, that changes criteria or tolerances; may "
                   "be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command->add_flag("--cost", options->cost,
                    "say what the table costs, and end; the runs that tell it are kept");
  command->add_option("--out", options->out, "folder for the table as text, JSON and CSV")
      ->type_name("DIR")
      ->check(not_empty());
  add_kept_runs_options(*command, options->kept);
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_speeds(*options); });
}

}  // namespace panup
