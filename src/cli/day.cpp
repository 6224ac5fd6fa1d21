#include <fmt/format.h>

#include <algorithm>
#include <mutex>

#include "cli/commands.h"
#include "cli/day_output.h"
#include "cli/day_what_if.h"
#include "cli/interruption.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/progress.h"
#include "cli/say.h"
#include "cli/version.h"
#include "cli/whole_day.h"
#include "day/day_table.h"
#include "day/plan_day.h"
#include "files/read_day.h"
#include "plan/mechanics_answers.h"

namespace panup {

namespace {

struct DayOptions {
  CommonOptions common;
  std::string day;
  std::string out;
  std::string cards;
  std::string speed_from = "tables";
  std::string store;
  std::string what_if;
  std::string language = "en";
};

std::string rendered(const DayOptions& options, const DayReport& report) {
  return options.common.json()            ? json_text(day_to_json(report))
         : options.common.format == "csv" ? day_to_csv(report)
                                          : day_to_text(report);
}

/// The worst of all trains.
int status_of(const DayReport& report) {
  const std::vector<std::size_t> counts = counts_of(report);
  const auto any = [&](Decision decision) {
    return counts[static_cast<std::size_t>(decision)] > 0;
  };
  return any(Decision::fault)                                   ? exit_fault
         : any(Decision::input_mistake)                         ? exit_wrong_input
         : any(Decision::none) || any(Decision::consent_needed) ? exit_answer_no
                                                                : exit_done;
}

void say_stopped(const PlannedDay& planned, const DayOptions& options, const KeptAnswers* answers,
                 const DayOutput& output) {
  const auto done =
      std::ranges::count_if(planned.outcomes, [](const auto& one) { return one.has_value(); });
  say("panup: stopped: {} of {} trains are done; {}\n", done, planned.outcomes.size(),
      answers != nullptr && answers->failure().empty()
          ? fmt::format("their answers are kept in {}; the same command goes on from there",
                        options.store)
          : std::string("no answers were kept; the same command begins anew"));
  if (const auto folders = output.folders_written()) {
    say("panup: of {} trains the folders in {} are whole; the table and the cards in one PDF are "
        "not "
        "written\n",
        *folders, options.out);
  }
}

int run_day(const DayOptions& options) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  const auto day = read_day_file(options.day, diagnostics, read.source());
  SharedByTrains shared;
  if (day && diagnostics.empty()) {
    diagnostics = mistakes_in_shared_files(*day, read.source(), shared);
  }
  if (print_diagnostics(diagnostics) || !day) {
    return exit_wrong_input;
  }
  const std::vector<InputFile> inputs = inputs_of_day(options.day, *day, read);
  const auto cards_place = options.cards.empty() ? std::nullopt : file_place(options.cards);
  if (!options.cards.empty() && !cards_place) {
    say("panup: --cards {}: is to name the file that the cards are written to\n", options.cards);
    return exit_wrong_input;
  }
  DayRequest request{.day = &*day,
                     .day_path = options.day,
                     .files = &read,
                     .speed_from = *speed_from_named(options.speed_from),
                     .jobs = options.common.jobs,
                     .program_version = program_version,
                     .words = words};
  std::optional<KeptRuns> runs;
  std::optional<Progress> progress;
  std::mutex telling;
  if (request.speed_from != SpeedFrom::tables) {
    runs = KeptRuns::open({.store = options.store}, options.common.jobs);
    if (!runs) {
      return exit_wrong_input;
    }
    request.mechanics = [&runs](const MechanicsData& data, const RuleBook& rules) {
      return mechanics_answers(data, rules, runs->source());
    };
  } else {
    note_interruptions();
    progress.emplace("trains");
    progress->expect(day->trains.size() * (options.what_if.empty() ? 1 : 2));
  }
  std::optional<KeptAnswers> answers;
  // Of the processes of an MPI job one has the store, and all have to plan the same trains.
  const bool keeps_answers = !runs || !runs->shared();
  if (keeps_answers && !open_answers(options.store, answers)) {
    return exit_wrong_input;
  }
  request.answers = answers ? &*answers : nullptr;
  DayOutput output(options.store);
  const bool writes = options.what_if.empty() && (!runs || runs->speaks());
  if (writes && !options.out.empty()) {
    output.into_folder(options.out, request);
  }
  if (writes && cards_place) {
    output.into_cards(*cards_place, request);
  }
  request.done = [&](std::size_t row) {
    output.done(row);
    const std::scoped_lock lock(telling);
    if (progress) {
      progress->done(1);
    }
  };
  request.stopped = [&output] { return interrupted() || output.failed(); };
  if (!options.what_if.empty()) {
    const auto planned = [&](bool stopped) -> std::optional<int> {
      progress.reset();
      if (runs) {
        runs->clear_progress();
      }
      return runs && stopped           ? std::optional(runs->say_stopped())
             : runs && !runs->speaks() ? std::optional(exit_done)
                                       : std::nullopt;
    };
    return run_what_if({.common = options.common,
                        .day = options.day,
                        .what_if = options.what_if,
                        .out = options.out,
                        .store = options.store,
                        .planned = planned},
                       request, shared, inputs);
  }
  PlannedDay planned = plan_day(request);
  progress.reset();
  if (runs) {
    runs->clear_progress();
  }
  if (answers && !answers->failure().empty()) {
    say("panup: {}\n", answers->failure());
  }
  if (planned.stopped && output.failed()) {
    return output.status();
  }
  if (planned.stopped) {
    if (!runs || runs->speaks()) {
      say_stopped(planned, options, request.answers, output);
    }
    if (runs) {
      return runs->say_stopped();
    }
    end_as_interrupted();
    return exit_fault;
  }
  if (runs && !runs->speaks()) {
    return exit_done;
  }
  const DayReport report{.day = &*day,
                         .outcomes = planned.outcomes,
                         .since_shown = answers ? changes_since_shown(request, planned)
                                                : std::vector<std::optional<ChangeSinceShown>>(),
                         .speed_from = request.speed_from,
                         .inputs = inputs,
                         .registered_vehicles = std::move(shared.registered_vehicles),
                         .rule_books = std::move(shared.rule_books),
                         .program_version = program_version,
                         .words = words};
  if (answers) {
    say("panup: {} of {} trains were planned, the answers of {} are as they were\n",
        planned.planned, report.outcomes.size(), planned.kept);
  }
  if (options.common.format != "text") {
    Diagnostics mistakes;
    for (const auto& outcome : report.outcomes) {
      mistakes.insert(mistakes.end(), outcome->mistakes.begin(), outcome->mistakes.end());
    }
    print_diagnostics(std::move(mistakes));
  }
  if (const int status = output.finish(report); status != exit_done) {
    return status;
  }
  const int status = print_result(rendered(options, report), status_of(report));
  if (answers && status != exit_fault) {
    note_shown(request, planned);
    if (!answers->failure().empty()) {
      say("panup: {}\n", answers->failure());
    }
  }
  return status;
}

}  // namespace

void add_day_command(CLI::App& program, int& status) {
  auto options = std::make_shared<DayOptions>();
  CLI::App* const command =
      program.add_subcommand("day", "plans all trains of a day, and says which need a decision");
  command->add_option("DAY", options->day, "the day's trains, and what they share (kind \"day\")")
      ->required()
      ->type_name("FILE");
  command
      ->add_option(
          "--speed-from", options->speed_from,
          "what gives the speed of the raised pantographs: tables, mechanics or both, as of "
          "panup plan; tables where not given")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"tables", "mechanics", "both"}));
  auto* const out =
      command
          ->add_option(
              "--out", options->out,
              "folder for the table as text, JSON and CSV, all cards as one PDF, and a folder for "
              "each train with what panup plan --out writes")
          ->type_name("DIR")
          ->check(not_empty());
  auto* const cards =
      command
          ->add_option("--cards", options->cards,
                       "file for the cards of all trains as one PDF, in order of departure")
          ->type_name("FILE.pdf")
          ->check(not_empty());
  cards->excludes(out);
  command
      ->add_option("--store", options->store,
                   "file that answers are kept in: a train of which nothing has changed is not "
                   "planned again, and what has changed since is said; computed runs are kept in "
                   "it too")
      ->type_name("FILE")
      ->check(not_empty());
  command
      ->add_option("--if", options->what_if,
                   "what may be another way (kind \"what if\"): which trains change, in what, and "
                   "how many minutes are lost; with --out, that alone is written")
      ->type_name("FILE")
      ->check(not_empty())
      ->excludes(cards);
  add_language_option(*command, options->language);
  add_common_options(*command, options->common, {"text", "json", "csv"});
  command->callback([options, &status] { status = run_day(*options); });
}

}  // namespace panup
