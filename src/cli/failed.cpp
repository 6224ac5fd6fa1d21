#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/plan_sheets.h"
#include "cli/ready_to_plan.h"
#include "cli/say.h"
#include "cli/version.h"
#include "day/plan_day.h"
#include "day/plan_parts.h"
#include "failed/failed_report.h"
#include "files/read_day.h"
#include "requests/run_input.h"

namespace panup {

namespace {

struct FailedOptions {
  CommonOptions common;
  std::string day;
  std::string number;
  std::string pantograph;
  double at_km = 0;
  std::string out;
  std::string speed_from = "tables";
  std::string language = "en";
  KeptRunsOptions kept;
};

int wrong_question(const std::string& text) {
  say("panup: {}\n", text);
  return exit_wrong_input;
}

int run_failed(const FailedOptions& options) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  ParsedFiles parsed;
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  const auto day = read_day_file(options.day, diagnostics, read.source());
  if (print_diagnostics(diagnostics) || !day) {
    return exit_wrong_input;
  }
  const auto train = std::ranges::find(day->trains, options.number, &DayTrain::number);
  if (train == day->trains.end()) {
    return wrong_question(fmt::format("the day has no train '{}'", options.number));
  }
  const SpeedFrom speed_from = *speed_from_named(options.speed_from);
  PlanPaths paths = paths_of_train(*day, *train);
  paths.words = words;
  auto input = read_train_input(paths, speed_from, read.source(), diagnostics, &parsed);
  if (print_diagnostics(diagnostics) || !input) {
    return exit_wrong_input;
  }
  const std::size_t part = part_at(*input, options.at_km);
  const PlanRequest& request = input->parts[part].request;
  std::string wrong = wrong_with_stand(options.at_km, request.route);
  if (!wrong.empty()) {
    return wrong_question(wrong);
  }
  const auto failed = pantograph_called(options.pantograph, request.train, wrong);
  if (!failed) {
    return wrong_question(input->parts.size() == 1
                              ? wrong
                              : fmt::format("{}, as it is at km {:g}", wrong, options.at_km));
  }
  const RoadFailureAt failure{.failed = *failed, .at_km = options.at_km};
  if (wrong = wrong_with(failure, request); !wrong.empty()) {
    return wrong_question(wrong);
  }
  std::optional<KeptRuns> kept;
  if (!open_runs(speed_from, options.kept, options.common.jobs, kept)) {
    return exit_wrong_input;
  }
  const auto ready = [&](PlanInput& one) { make_ready(one, options.common.jobs, kept); };
  std::ranges::for_each(input->parts, ready);
  auto from_there = plan_parts(rest_of_way(*input, part, failure), program_version);
  if (!from_there) {
    return kept->say_stopped();
  }
  FailedReport report{.day = &*day,
                      .row = static_cast<std::size_t>(train - day->trains.begin()),
                      .failure = failure,
                      .run = std::move(*from_there),
                      .message = {},
                      .touched = {},
                      .program_version = program_version};
  report.message = message_to_driver(report.run, failure);
  auto touched = trains_touched({.day = *day,
                                 .row = report.row,
                                 .vehicle = vehicle_numbered(request.train, failed->vehicle)->id,
                                 .pantograph = failed->pantograph,
                                 .speed_from = speed_from,
                                 .words = words,
                                 .make_ready = ready},
                                read, parsed);
  if (!touched) {
    return kept->say_stopped();
  }
  report.touched = std::move(*touched);
  if (kept && !kept->speaks()) {
    return exit_done;
  }
  if (!options.out.empty()) {
    std::vector<OutputFile> files = train_sheets(report.run);
    files.push_back({"failed.txt", failed_to_text(report)});
    files.push_back({"failed.json", json_text(failed_to_json(report))});
    std::vector<std::string> inputs = paths_of(inputs_of(report.run));
    inputs.push_back(options.day);
    if (!options.kept.store.empty()) {
      inputs.push_back(options.kept.store);
    }
    if (const int written = write_out(options.out, files, inputs); written != exit_done) {
      return written;
    }
  }
  return print_result(
      options.common.json() ? json_text(failed_to_json(report)) : failed_to_text(report),
      answer_of(report.run) == Answer::permitted ? exit_done : exit_answer_no);
}

}  // namespace

void add_failed_command(CLI::App& program, int& status) {
  auto options = std::make_shared<FailedOptions>();
  CLI::App* const command = program.add_subcommand(
      "failed",
      "a pantograph has failed on the road: what the driver is told, and which later "
      "trains of the day it touches");
  command->add_option("DAY", options->day, "the day's trains (kind \"day\")")
      ->required()
      ->type_name("FILE");
  command->add_option("--number", options->number, "the train, by its number in the day")
      ->required()
      ->type_name("NUMBER")
      ->check(not_empty());
  command
      ->add_option("--pantograph", options->pantograph,
                   "the one that has failed: vehicle.number as in 1.2, or the vehicle's own number "
                   "before the dot, as in \"K41 007.2\"")
      ->required()
      ->type_name("V.P")
      ->check(not_empty());
  command
      ->add_option("--at", options->at_km,
                   "the chainage at which the train stands with its front, in km")
      ->required()
      ->type_name("KM")
      ->check(number_from(-1e5, 1e5));
  command
      ->add_option("--out", options->out,
                   "folder for the message, and for what panup plan --out writes of the plan from "
                   "there")
      ->type_name("DIR")
      ->check(not_empty());
  command
      ->add_option("--speed-from", options->speed_from,
                   "what gives the speed of the raised pantographs, as of panup plan: tables, "
                   "mechanics or both; tables where not given")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"tables", "mechanics", "both"}));
  add_language_option(*command, options->language);
  add_kept_runs_options(*command, options->kept);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_failed(*options); });
}

}  // namespace panup
