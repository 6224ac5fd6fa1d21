#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "cli/whole_day.h"
#include "issued/issued_table.h"

namespace panup {

namespace {

struct IssuedOptions {
  CommonOptions common;
  WholeDayOptions day;
  std::string register_path;
  std::string out;
  std::string at;
  bool check = false;
  std::string language = "en";
};

bool is_asked_for(const std::vector<std::string>& numbers, const std::string& number) {
  return numbers.empty() || std::ranges::find(numbers, number) != numbers.end();
}

int write_folder_of(const IssuedOptions& options, IssueRegister& issues, const IssuedReport& report,
                    std::vector<std::string> inputs) {
  std::vector<OutputFile> files{{"issued.txt", issued_to_text(report)},
                                {"issued.json", json_text(issued_to_json(report))}};
  add_rendered(csv_files(issued_tables(report), {.invented = report.invented, .thing = "table"}),
               files);
  for (const Issue& issue : report.issues) {
    KeptBytes kept = issues.card_of(issue);
    if (!kept.wrong.empty()) {
      say("panup: {}\n", kept.wrong);
      return exit_fault;
    }
    files.push_back({card_file_name(issue), std::move(kept.bytes)});
  }
  inputs.push_back(options.register_path);
  return write_out(options.out, files, inputs);
}

std::string rendered_issued(const IssuedOptions& options, const IssuedReport& report) {
  return options.common.json()            ? json_text(issued_to_json(report))
         : options.common.format == "csv" ? csv_text(issued_tables(report).front())
                                          : issued_to_text(report);
}

int run_issued(const IssuedOptions& options) {
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  if (print_diagnostics(diagnostics)) {
    return exit_wrong_input;
  }
  std::error_code error;
  if (!std::filesystem::exists(options.register_path, error)) {
    say("panup: register of issued cards {}: there is no such file\n", options.register_path);
    return exit_wrong_input;
  }
  auto opened = IssueRegister::open(options.register_path);
  if (const auto* const wrong = std::get_if<std::string>(&opened)) {
    say("panup: {}\n", *wrong);
    return exit_wrong_input;
  }
  auto& issues = std::get<IssueRegister>(opened);
  if (options.check) {
    const std::vector<std::string> damage = issues.damage();
    for (const std::string& one : damage) {
      say("panup: {}\n", one);
    }
    if (!damage.empty()) {
      return exit_fault;
    }
  }
  auto all = issues.issues();
  if (const auto* const wrong = std::get_if<std::string>(&all)) {
    say("panup: {}\n", *wrong);
    return exit_fault;
  }
  IssuedReport report{.register_path = options.register_path,
                      .issues = std::move(std::get<std::vector<Issue>>(all)),
                      .last_checksum = {},
                      .date = {},
                      .standings = {},
                      .invented = false,
                      .program_version = program_version,
                      .words = words};
  report.last_checksum = report.issues.empty() ? std::string() : report.issues.back().checksum;
  std::erase_if(report.issues, [&](const Issue& issue) {
    return !is_asked_for(options.day.numbers, issue.train_number);
  });
  std::vector<std::string> inputs;
  int status = exit_done;
  if (!options.day.day.empty()) {
    WholeDayOptions asked = options.day;
    asked.jobs = options.common.jobs;
    asked.words = words;
    // A train that is no longer in the day has its card all the same.
    asked.numbers.clear();
    std::optional<WholeDay> whole = plan_whole_day(asked, status);
    if (!whole) {
      return status;
    }
    report.date = whole->day.date;
    report.invented = whole->invented;
    std::erase_if(report.issues, [&](const Issue& issue) { return issue.day != report.date; });
    DayStandings standings = standings_of_day(issues, whole->day, whole->planned,
                                              time_or_now(options.at).substr(0, 10), words);
    if (!standings.wrong.empty()) {
      say("panup: {}\n", standings.wrong);
      return exit_fault;
    }
    report.standings = std::move(standings.cards);
    std::erase_if(report.standings, [&](const CardStanding& standing) {
      return !is_asked_for(options.day.numbers, standing.train_number);
    });
    inputs = paths_of(whole->inputs);
    status = status != exit_done           ? status
             : any_no_longer_holds(report) ? exit_answer_no
                                           : exit_done;
  }
  if (!options.out.empty()) {
    if (const int written = write_folder_of(options, issues, report, std::move(inputs));
        written != exit_done) {
      return written;
    }
  }
  return print_result(rendered_issued(options, report), status);
}

}  // namespace

void add_issued_command(CLI::App& program, int& status) {
  auto options = std::make_shared<IssuedOptions>();
  CLI::App* const command =
      program.add_subcommand("issued", "what cards were issued, and which of them no longer hold");
  command->add_option("REGISTER", options->register_path, "the register of issued cards")
      ->required()
      ->type_name("FILE");
  command
      ->add_option("--number", options->day.numbers,
                   "a train, by its number; may be given more than once; all where not given")
      ->type_name("NUMBER")
      ->check(not_empty());
  command
      ->add_option("--day", options->day.day,
                   "the day as it is now: it is planned anew, and said which cards no longer hold "
                   "and why, and which trains have none")
      ->type_name("FILE")
      ->check(not_empty());
  command
      ->add_option("--store", options->day.store,
                   "file that answers of the day are kept in, as of panup day")
      ->type_name("FILE")
      ->check(not_empty());
  command
      ->add_option("--at", options->at,
                   "the time of asking, in UTC, as 2026-05-12T03:10:00Z; where not given, now")
      ->type_name("TIME")
      ->check(wrong_with_time);
  command->add_flag("--check", options->check,
                    "look at every byte that is kept, not only at what is listed");
  command
      ->add_option("--out", options->out,
                   "folder for the list as text, JSON and CSV, and the cards as PDF")
      ->type_name("DIR")
      ->check(not_empty());
  add_language_option(*command, options->language);
  add_common_options(*command, options->common, {"text", "json", "csv"});
  command->callback([options, &status] { status = run_issued(*options); });
}

}  // namespace panup
