#include <algorithm>
#include <memory>

#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "figures/fitted.h"
#include "fitting/fit_record.h"
#include "requests/fit_input.h"

namespace panup {

namespace {

struct FitOptions {
  CommonOptions common;
  std::string record;
  std::vector<std::string> quantities;
  std::string out;
  std::string language = "en";
};

std::vector<std::string> names_of_quantities() {
  std::vector<std::string> names;
  for (int i = 0; i < model_inputs; ++i) {
    names.emplace_back(name_of(static_cast<ModelInput>(i)));
  }
  return names;
}

/// Each once, in the order asked.
std::vector<ModelInput> quantities_of(const FitOptions& options) {
  const std::vector<std::string> names = names_of_quantities();
  std::vector<ModelInput> quantities;
  for (const std::string& asked : options.quantities) {
    const auto quantity = static_cast<ModelInput>(std::ranges::find(names, asked) - names.begin());
    if (std::ranges::find(quantities, quantity) == quantities.end()) {
      quantities.push_back(quantity);
    }
  }
  return quantities;
}

int status_of(const FitOutcome& outcome) {
  const bool all_told = std::ranges::all_of(outcome.values, &FittedValue::told);
  const bool sound = outcome.converged && outcome.rows_left_out > 0 && outcome.borne_out();
  return all_told && sound ? exit_done : exit_answer_no;
}

int run_fit(const FitOptions& options) {
  Diagnostics diagnostics;
  std::vector<std::string> mistakes;
  const FileSource files = files_on_disk();
  const Words words = words_of(options.language, diagnostics);
  const auto input = read_measured_input(options.record, {}, files, diagnostics, words);
  const auto report = input ? fit_measured(*input, quantities_of(options), options.common.jobs,
                                           program_version, files, diagnostics, mistakes)
                            : std::nullopt;
  for (const std::string& mistake : mistakes) {
    say("panup: {}\n", mistake);
  }
  if (print_diagnostics(diagnostics) || !report) {
    return exit_wrong_input;
  }
  const std::string text = fit_to_text(*report);
  const std::string json = json_text(fit_to_json(*report));
  if (!options.out.empty()) {
    std::vector<OutputFile> written{{"fit.txt", text}, {"fit.json", json}};
    for (const RenderedFile& file : report->files) {
      written.push_back({file.name, file.bytes});
    }
    if (const int status = write_out(options.out, written, paths_of(report->inputs));
        status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json : text, status_of(report->outcome));
}

}  // namespace

void add_fit_command(CLI::App& program, int& status) {
  auto options = std::make_shared<FitOptions>();
  CLI::App* const command = program.add_subcommand(
      "fit", "figures of a contact line and its pantographs, fitted to measured contact force");
  add_record_option(*command, options->record);
  command
      ->add_option("--quantity", options->quantities, "what is fitted; may be given several times")
      ->required()
      ->type_name("NAME")
      ->check(CLI::IsMember(names_of_quantities()))
      ->allow_extra_args(false);
  command
      ->add_option("--out", options->out,
                   "folder for the result as text and JSON, and the files of the contact line and "
                   "pantographs with the fitted values")
      ->type_name("DIR")
      ->check(not_empty());
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_fit(*options); });
}

}  // namespace panup
