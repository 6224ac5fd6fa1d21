#include "cli/whole_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>

#include "cli/commands.h"
#include "cli/interruption.h"
#include "cli/progress.h"
#include "cli/say.h"
#include "cli/version.h"
#include "day/day_table.h"

namespace panup {

namespace {

/// Keeps of the day the trains that were asked for; false, and said, where it has no such train.
bool keep_numbers(DayFile& day, const std::vector<std::string>& numbers) {
  bool all_there = true;
  for (const std::string& number : numbers) {
    if (std::ranges::find(day.trains, number, &DayTrain::number) == day.trains.end()) {
      say("panup: the day has no train '{}'\n", number);
      all_there = false;
    }
  }
  if (!numbers.empty()) {
    std::erase_if(day.trains, [&](const DayTrain& train) {
      return std::ranges::find(numbers, train.number) == numbers.end();
    });
  }
  return all_there;
}

int status_of_trains(const PlannedDay& planned) {
  const auto any = [&](Decision decision) {
    return std::ranges::any_of(planned.outcomes, [decision](const auto& outcome) {
      return outcome->decision == decision;
    });
  };
  return any(Decision::fault)           ? exit_fault
         : any(Decision::input_mistake) ? exit_wrong_input
                                        : exit_done;
}

}  // namespace

bool open_answers(const std::string& path, std::optional<KeptAnswers>& answers) {
  if (path.empty()) {
    return true;
  }
  auto opened = KeptAnswers::open(path);
  if (const auto* const wrong = std::get_if<std::string>(&opened)) {
    say("panup: {}\n", *wrong);
    return false;
  }
  answers = std::move(std::get<KeptAnswers>(opened));
  if (!answers->note().empty()) {
    say("panup: {}\n", answers->note());
  }
  return true;
}

std::optional<WholeDay> plan_whole_day(const WholeDayOptions& options, int& status) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  Diagnostics diagnostics;
  auto day = read_day_file(options.day, diagnostics, read.source());
  SharedByTrains shared;
  if (day) {
    diagnostics = mistakes_in_shared_files(*day, read.source(), shared);
  }
  status = exit_wrong_input;
  if (print_diagnostics(diagnostics) || !day || !keep_numbers(*day, options.numbers)) {
    return std::nullopt;
  }
  std::optional<KeptAnswers> answers;
  if (!open_answers(options.store, answers)) {
    return std::nullopt;
  }
  WholeDay whole{.day = std::move(*day), .planned = {}, .plans = {}, .inputs = {}};
  whole.plans.resize(options.with_plans ? whole.day.trains.size() : 0);
  note_interruptions();
  std::optional<Progress> progress(std::in_place, "trains");
  progress->expect(whole.day.trains.size());
  std::mutex telling;
  DayRequest request{.day = &whole.day,
                     .files = &read,
                     .jobs = options.jobs,
                     .program_version = program_version,
                     .words = options.words,
                     .with_readings = true,
                     .answers = answers ? &*answers : nullptr,
                     .plan_all = options.with_plans};
  if (options.with_plans) {
    request.made = [&](std::size_t row, const std::shared_ptr<const RunPlan>& run) {
      whole.plans[row] = run;
    };
  }
  request.done = [&](std::size_t) {
    const std::scoped_lock lock(telling);
    progress->done(1);
  };
  request.stopped = [] { return interrupted(); };
  whole.planned = plan_day(request);
  progress.reset();
  if (answers && !answers->failure().empty()) {
    say("panup: {}\n", answers->failure());
  }
  if (whole.planned.stopped) {
    say("panup: stopped: the day is not planned, and nothing was done with it\n");
    end_as_interrupted();
    status = exit_fault;
    return std::nullopt;
  }
  Diagnostics mistakes;
  for (const auto& outcome : whole.planned.outcomes) {
    mistakes.insert(mistakes.end(), outcome->mistakes.begin(), outcome->mistakes.end());
    whole.invented = whole.invented || outcome->invented;
  }
  whole.invented = whole.invented || whole.day.invented;
  print_diagnostics(std::move(mistakes));
  whole.inputs = inputs_of_day(options.day, whole.day, read);
  status = whole.status = status_of_trains(whole.planned);
  return whole;
}

}  // namespace panup
