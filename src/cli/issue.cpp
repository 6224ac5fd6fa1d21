#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "cli/whole_day.h"
#include "issued/issued_table.h"

namespace panup {

namespace {

struct IssueOptions {
  CommonOptions common;
  WholeDayOptions day;
  std::string register_path;
  std::string out;
  HandedOut handed_out;
  bool also_holding = false;
  std::string language = "en";
};

int write_cards(const IssueOptions& options, IssueRegister& issues, const IssueReport& report,
                std::vector<std::string> inputs) {
  std::vector<OutputFile> files;
  for (const CardOfTrain& card : report.cards) {
    if (card.fate != CardFate::issued) {
      continue;
    }
    KeptBytes kept = issues.card_of(*card.issue);
    if (!kept.wrong.empty()) {
      say("panup: {}\n", kept.wrong);
      return exit_fault;
    }
    files.push_back({card_file_name(*card.issue), std::move(kept.bytes)});
  }
  inputs.push_back(options.register_path);
  return files.empty() ? exit_done : write_out(options.out, files, inputs);
}

int run_issue(const IssueOptions& options) {
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  if (print_diagnostics(diagnostics)) {
    return exit_wrong_input;
  }
  auto opened = IssueRegister::open(options.register_path);
  if (const auto* const wrong = std::get_if<std::string>(&opened)) {
    say("panup: {}\n", *wrong);
    return exit_wrong_input;
  }
  auto& issues = std::get<IssueRegister>(opened);
  if (const auto all = issues.issues(); const auto* const wrong = std::get_if<std::string>(&all)) {
    say("panup: {}\n", *wrong);
    return exit_fault;
  }
  int status = exit_done;
  WholeDayOptions asked = options.day;
  asked.words = words;
  asked.with_plans = true;
  asked.jobs = options.common.jobs;
  const std::optional<WholeDay> whole = plan_whole_day(asked, status);
  if (!whole) {
    return status;
  }
  if (const std::string wrong =
          wrong_with_last_day(options.handed_out.holds_until, whole->day.date);
      !wrong.empty()) {
    say("panup: --holds-until {}\n", wrong);
    return exit_wrong_input;
  }
  HowToIssue how{.handed_out = options.handed_out, .also_holding = options.also_holding};
  how.handed_out.at = time_or_now(how.handed_out.at);
  HandedOutDay handed = hand_out(issues,
                                 {.day = whole->day,
                                  .outcomes = whole->planned.outcomes,
                                  .readings = whole->planned.readings,
                                  .plans = whole->plans,
                                  .words = words},
                                 departure_order(whole->day), how);
  if (!handed.wrong.empty()) {
    say("panup: {}\npanup: no card is issued\n", handed.wrong);
    return exit_fault;
  }
  const bool all_have_one = std::ranges::none_of(
      handed.cards, [](const CardOfTrain& card) { return card.fate == CardFate::refused; });
  const IssueReport report{.day = &whole->day,
                           .register_path = options.register_path,
                           .handed_out = how.handed_out,
                           .cards = std::move(handed.cards),
                           .invented = whole->invented,
                           .program_version = program_version,
                           .words = words};
  if (!options.out.empty()) {
    std::vector<std::string> inputs = paths_of(whole->inputs);
    for (const auto& run : whole->plans) {
      if (run != nullptr) {
        const std::vector<std::string> more = paths_of(inputs_of(*run));
        inputs.insert(inputs.end(), more.begin(), more.end());
      }
    }
    if (const int written = write_cards(options, issues, report, std::move(inputs));
        written != exit_done) {
      say("panup: the cards are issued all the same; panup issued {} --out DIR writes them\n",
          options.register_path);
      return written;
    }
  }
  return print_result(
      options.common.json() ? json_text(issue_to_json(report)) : issue_to_text(report),
      status != exit_done ? status
      : all_have_one      ? exit_done
                          : exit_answer_no);
}

}  // namespace

void add_issue_command(CLI::App& program, int& status) {
  auto options = std::make_shared<IssueOptions>();
  CLI::App* const command = program.add_subcommand(
      "issue", "issues the driver's cards of a day, and keeps what was issued in a register");
  command->add_option("DAY", options->day.day, "the day's trains (kind \"day\")")
      ->required()
      ->type_name("FILE");
  command
      ->add_option("--register", options->register_path,
                   "the register of issued cards; it is made where there is none, and only ever "
                   "added to")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command->add_option("--to", options->handed_out.to, "to whom the cards go")
      ->required()
      ->type_name("WHO")
      ->check(not_empty());
  command
      ->add_option("--number", options->day.numbers,
                   "a train of the day, by its number; may be given more than once; all where not "
                   "given")
      ->type_name("NUMBER")
      ->check(not_empty());
  command
      ->add_option("--made-by", options->handed_out.made_by,
                   "who made them; where not given, as the train's file says; so the next three")
      ->type_name("WHO");
  command->add_option("--checked-by", options->handed_out.checked_by, "who checked them")
      ->type_name("WHO");
  command->add_option("--released-by", options->handed_out.released_by, "who released them")
      ->type_name("WHO");
  command
      ->add_option("--holds-until", options->handed_out.holds_until,
                   "the last day on which they hold")
      ->type_name("YYYY-MM-DD")
      ->check(day_of_calendar());
  command->add_flag("--also-holding", options->also_holding,
                    "issue anew also where the card issued last still holds");
  command
      ->add_option(
          "--at", options->handed_out.at,
          "when they are handed out, in UTC, as 2026-05-12T03:10:00Z; where not given, now")
      ->type_name("TIME")
      ->check(wrong_with_time);
  command
      ->add_option("--out", options->out, "folder for the cards issued now, a PDF for each train")
      ->type_name("DIR")
      ->check(not_empty());
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_issue(*options); });
}

}  // namespace panup
