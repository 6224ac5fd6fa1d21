#include "cli/day_what_if.h"

#include <fmt/format.h>

#include <algorithm>

#include "cli/interruption.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/version.h"
#include "what_if/what_if_report.h"

namespace panup {

namespace {

std::string rendered(const WhatIfOptions& options, const WhatIfReport& report) {
  return options.common.json()            ? json_text(what_if_to_json(report))
         : options.common.format == "csv" ? csv_text(what_if_table(report))
                                          : what_if_to_text(report);
}

/// A fault or a mistake in the input of any train, of either day, comes before what changes.
int status_of(const WhatIfReport& report) {
  const auto any = [&](Decision decision) {
    const auto is = [decision](const auto& outcome) { return outcome->decision == decision; };
    return std::ranges::any_of(report.planned.before, is) ||
           std::ranges::any_of(report.planned.then, is);
  };
  return any(Decision::fault)           ? exit_fault
         : any(Decision::input_mistake) ? exit_wrong_input
         : any_change(report)           ? exit_answer_no
                                        : exit_done;
}

int write_folder(const WhatIfOptions& options, const WhatIfReport& report) {
  std::vector<std::string> inputs = paths_of(report.inputs);
  for (const DayTrain& train : report.day->trains) {
    for (const FileNamed* const named : {&train.train, &train.route, &train.run}) {
      if (!named->path.empty()) {
        inputs.push_back(named->path);
      }
    }
  }
  if (!options.store.empty()) {
    inputs.push_back(options.store);
  }
  std::vector<OutputFile> files{{"what-if.txt", what_if_to_text(report)},
                                {"what-if.json", json_text(what_if_to_json(report))}};
  add_rendered(
      csv_files({what_if_table(report)}, {.invented = invented(report), .thing = "comparison"}),
      files);
  return write_out(options.out, files, inputs);
}

void say_mistakes(const WhatIfReport& report) {
  Diagnostics mistakes;
  for (const auto* const outcomes : {&report.planned.before, &report.planned.then}) {
    for (const auto& outcome : *outcomes) {
      mistakes.insert(mistakes.end(), outcome->mistakes.begin(), outcome->mistakes.end());
    }
  }
  print_diagnostics(std::move(mistakes));
}

}  // namespace

int run_what_if(const WhatIfOptions& options, const DayRequest& request,
                const SharedByTrains& shared, std::vector<InputFile> inputs) {
  FilesReadOnce& read = *request.files;
  Diagnostics diagnostics;
  const auto what_if = read_what_if_file(options.what_if, diagnostics, read.source());
  SharedByTrains shared_then;
  if (what_if) {
    diagnostics = mistakes_between(options.day, *request.day, *what_if, read.source());
  }
  if (what_if && diagnostics.empty()) {
    diagnostics = mistakes_in_shared_files(
        changed_day(*request.day, *what_if),
        with_replaced(read.source(), replaced_files_of(*what_if)), shared_then);
  }
  if (print_diagnostics(diagnostics) || !what_if) {
    return exit_wrong_input;
  }
  WhatIfReport report{.day = request.day,
                      .what_if = &*what_if,
                      .planned = plan_what_if(request, *what_if),
                      .speed_from = request.speed_from,
                      .inputs = std::move(inputs),
                      .rule_books = shared.rule_books,
                      .rule_books_then = std::move(shared_then.rule_books),
                      .program_version = program_version,
                      .words = request.words};
  if (const auto status = options.planned(report.planned.stopped)) {
    return *status;
  }
  if (request.answers != nullptr && !request.answers->failure().empty()) {
    say("panup: {}\n", request.answers->failure());
  }
  if (report.planned.stopped) {
    say("panup: stopped: the two days are not compared; {}\n",
        request.answers != nullptr && request.answers->failure().empty()
            ? fmt::format("answers so far are kept in {}; the same command goes on from there",
                          options.store)
            : std::string("no answers were kept; the same command begins anew"));
    end_as_interrupted();
    return exit_fault;
  }
  add_inputs(report.inputs, options.what_if, *what_if, read);
  if (request.answers != nullptr) {
    say("panup: {} plans were made for {} trains, {} answers are as they were; nothing of the "
        "change touches {}\n",
        report.planned.planned, request.day->trains.size(), report.planned.kept,
        report.planned.untouched);
  }
  if (options.common.format != "text") {
    say_mistakes(report);
  }
  if (!options.out.empty()) {
    if (const int status = write_folder(options, report); status != exit_done) {
      return status;
    }
  }
  return print_result(rendered(options, report), status_of(report));
}

}  // namespace panup
