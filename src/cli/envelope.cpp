#include "quality/envelope.h"

#include <fmt/format.h>

#include "base/handed_out.h"
#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "figures/envelope.h"
#include "requests/asked_run.h"

namespace panup {

namespace {

struct EnvelopeOptions {
  CommonOptions common;
  KeptRunsOptions kept;
  std::string line;
  std::string pantograph;
  int count = 2;
  std::string spacings;
  std::string speeds;
  std::string system;
  std::string knuckle = "both";
  std::vector<std::string> rules;
  std::optional<double> temperature_c;
  int samples = 0;
  std::uint64_t seed = 1;
  std::string out;
  std::string language = "en";
};

/// The request, and in `mistakes` what is wrong with the command line or between the files.
EnvelopeRequest request_of(const EnvelopeOptions& options, const EnvelopeInput& input,
                           std::vector<std::string>& mistakes) {
  const auto numbers = [&mistakes](std::string_view option, std::string_view text, double least,
                                   double greatest, std::size_t most) {
    std::string wrong;
    auto values = numbers_of(text, least, greatest, most, wrong);
    if (!wrong.empty()) {
      mistakes.push_back(fmt::format("{}: {}", option, wrong));
    }
    return values;
  };
  EnvelopeRequest request;
  request.supply = energy_supply_named(options.system);
  request.count = options.count;
  request.knuckles = knuckles_named(options.knuckle, input.pantograph);
  if (options.count == 1) {
    request.spacings_m = {0};
  } else if (!options.spacings.empty()) {
    request.spacings_m = numbers("--spacings", options.spacings, 1, 2000, most_envelope_spacings);
  }
  request.speeds_kmh = numbers("--speeds", options.speeds, 5, 500, most_envelope_speeds);
  request.samples = options.samples;
  request.seed = options.seed;
  if (options.count > 1 && options.spacings.empty()) {
    mistakes.emplace_back(
        "--spacings is missing: the distances between one pantograph and the next in m, as in "
        "--spacings 10:200:10, which is from 10 m to 200 m in steps of 10 m");
  }
  set_input(request, input, "with --system", mistakes);
  if (options.temperature_c) {
    request.settings.weather_given = true;
    request.settings.weather.temperature_c = *options.temperature_c;
  }
  return request;
}

std::vector<std::string> inputs_of(const EnvelopeOptions& options,
                                   const std::vector<InputFile>& files) {
  std::vector<std::string> paths = paths_of(files);
  if (!options.kept.store.empty()) {
    paths.push_back(options.kept.store);
  }
  return paths;
}

int write_results(const EnvelopeOptions& options, const EnvelopeReport& report,
                  const std::string& text, const std::string& json) {
  const std::vector<std::string> inputs = inputs_of(options, report.inputs);
  if (const auto place = file_place(options.out); place && options.out.ends_with(".svg")) {
    return write_out(place->folder, {{place->name, envelope_to_svg(report)}}, inputs);
  }
  std::vector<OutputFile> files{{"envelope.txt", text}, {"envelope.json", json}};
  add_rendered(envelope_csv_files(report), files);
  add_rendered(render_envelope(report), files);
  return write_sheets(options.out, "envelope", std::move(files), inputs);
}

int run_envelope(const EnvelopeOptions& options) {
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  auto input = read_envelope_input(options.line, options.pantograph, options.rules, files_on_disk(),
                                   diagnostics, words);
  if (print_diagnostics(diagnostics) || !input) {
    return exit_wrong_input;
  }
  std::vector<std::string> mistakes;
  const EnvelopeRequest request = request_of(options, *input, mistakes);
  if (options.out.ends_with(".svg")) {
    if (std::string text = input_in_the_way(options.out, inputs_of(options, input->files));
        !text.empty()) {
      mistakes.push_back("--out " + std::move(text));
    }
  }
  if (!mistakes.empty()) {
    for (const std::string& mistake : mistakes) {
      say("panup: {}\n", mistake);
    }
    return exit_wrong_input;
  }
  auto kept = KeptRuns::open(options.kept, options.common.jobs);
  if (!kept) {
    return exit_wrong_input;
  }
  const auto envelope = compute_envelope(request, kept->source());
  if (!envelope) {
    return kept->say_stopped();
  }
  if (!kept->speaks()) {
    return exit_done;
  }
  const EnvelopeReport report = report_of(*input, *envelope, program_version);
  const std::string text = envelope_to_text(report);
  const std::string json = json_text(envelope_to_json(report));
  if (!options.out.empty()) {
    if (const int status = write_results(options, report, text, json); status != exit_done) {
      return status;
    }
  }
  const bool any = std::ranges::any_of(envelope->permitted,
                                       [](const PermittedSpeed& one) { return one.speed_kmh > 0; });
  return print_result(options.common.json() ? json : text, any ? exit_done : exit_answer_no);
}

}  // namespace

void add_envelope_command(CLI::App& program, int& status) {
  auto options = std::make_shared<EnvelopeOptions>();
  CLI::App* const command =
      program.add_subcommand("envelope", "permitted speed over distance, by the mechanics");
  command->add_option("--line", options->line, "the contact line")->required()->type_name("FILE");
  command
      ->add_option("--pantograph", options->pantograph, "the mechanical model of the pantographs")
      ->required()
      ->type_name("FILE");
  command->add_option("--count", options->count, "raised pantographs, 1 to 8; 2 where not given")
      ->type_name("N")
      ->check(CLI::Range(1, 8));
  command
      ->add_option(
          "--spacings", options->spacings,
          "distances between one pantograph and the next in m: the first, the last and the step, "
          "as in 10:200:10; needed for more than one pantograph")
      ->type_name("A:B:STEP");
  command
      ->add_option("--speeds", options->speeds,
                   "speeds in km/h: the first, the last and the step, as in 60:160:5")
      ->required()
      ->type_name("A:B:STEP");
  command
      ->add_option("--system", options->system,
                   "energy supply system, for static force and the criteria that hang on it, as in "
                   "\"AC 25 kV 50 Hz\"")
      ->type_name("NAME")
      ->check(CLI::IsMember(names_of_systems()));
  command
      ->add_option(
          "--knuckle", options->knuckle,
          "leading, trailing or both: directions of running; both where not given, and the "
          "worse one counts")
      ->type_name("WAY")
      ->check(CLI::IsMember({"leading", "trailing", "both"}));
  command
      ->add_option("--rules", options->rules,
                   "a rule book, after the built-in one, that changes criteria or tolerances; may "
                   "be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--temperature-c", options->temperature_c,
                   "temperature, -60 to 60; that which the line is built for where not given")
      ->type_name("C")
      ->check(number_from(-60, 60));
  command
      ->add_option("--samples", options->samples,
                   "lines and pantographs drawn within the tolerances of the rule book, whose "
                   "permitted speeds are found too, up to 1000")
      ->type_name("N")
      ->check(CLI::Range(0, 1000));
  command->add_option("--seed", options->seed, "of the samples; 1 where not given")
      ->type_name("N")
      ->check(whole_number());
  command
      ->add_option(
          "--out", options->out,
          "file for the picture, ending in .svg, or a folder for text, JSON, CSV and picture as "
          "PDF, SVG and PNG")
      ->type_name("FILE.svg|DIR")
      ->check(not_empty());
  add_kept_runs_options(*command, options->kept);
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_envelope(*options); });
}

}  // namespace panup
