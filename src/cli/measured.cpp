#include "figures/measured.h"

#include <memory>

#include "base/handed_out.h"
#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/version.h"
#include "requests/measured_input.h"

namespace panup {

namespace {

struct MeasuredOptions {
  CommonOptions common;
  std::string record;
  std::vector<std::string> rules;
  std::string out;
  std::string language = "en";
};

int status_of(const MeasuredReport& report) {
  const bool valid = simulation_valid(report).value_or(true);
  return report.judged.answer == RecordAnswer::met && valid ? exit_done : exit_answer_no;
}

int write_results(const MeasuredOptions& options, const MeasuredReport& report,
                  const std::string& text, const std::string& json) {
  if (options.out.empty()) {
    return exit_done;
  }
  std::vector<OutputFile> files{{"measured.txt", text}, {"measured.json", json}};
  files.push_back({"spans.csv", spans_to_csv(report)});
  for (RenderedFile& drawing : render_measured(report)) {
    files.push_back({std::move(drawing.name), std::move(drawing.bytes)});
  }
  return write_sheets(options.out, "measured", std::move(files), paths_of(report.inputs));
}

int run_measured(const MeasuredOptions& options) {
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  const auto input =
      read_measured_input(options.record, options.rules, files_on_disk(), diagnostics, words);
  const auto report = input ? evaluate_record(*input, program_version, diagnostics) : std::nullopt;
  if (print_diagnostics(diagnostics) || !report) {
    return exit_wrong_input;
  }
  const std::string text = measured_to_text(*report);
  const std::string json = json_text(measured_to_json(*report));
  if (const int status = write_results(options, *report, text, json); status != exit_done) {
    return status;
  }
  return print_result(options.common.json() ? json : text, status_of(*report));
}

}  // namespace

void add_measured_command(CLI::App& program, int& status) {
  auto options = std::make_shared<MeasuredOptions>();
  CLI::App* const command = program.add_subcommand(
      "measured",
      "measured contact force: evaluated, held against the criteria, set beside a simulation");
  add_record_option(*command, options->record);
  command
      ->add_option("--rules", options->rules,
                   "a rule book over the built-in one; may be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--out", options->out,
                   "folder for the result as text, JSON and plots (PDF, SVG, PNG), and figures by "
                   "span as CSV")
      ->type_name("DIR")
      ->check(not_empty());
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_measured(*options); });
}

}  // namespace panup
