#include "day/plan_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>

#include "day/plan_parts.h"
#include "files/read_conditions.h"
#include "files/read_consents.h"
#include "files/read_defects.h"
#include "requests/run_input.h"

namespace panup {

namespace {

std::vector<std::string> paths_of_named(const std::vector<FileNamed>& files) {
  std::vector<std::string> paths;
  for (const FileNamed& file : files) {
    paths.push_back(file.path);
  }
  return paths;
}

PlanPaths paths_of_row(const DayRequest& request, const DayTrain& train) {
  PlanPaths paths = paths_of_train(*request.day, train);
  paths.words = request.words;
  paths.replaced_files = request.replaced_files;
  paths.replaced_classes = request.replaced_classes;
  return paths;
}

TrainShown shown_of_row(const DayRequest& request, std::size_t row) {
  const DayTrain& train = request.day->trains[row];
  return {.train = key_of_train(request.day_path, request.day->date, train.number,
                                request.speed_from, request.words),
          .answer = key_of(paths_of_row(request, train), request.speed_from)};
}

/// What cannot be read at all is said where the row names it.
void place_at_row(const DayTrain& train, Diagnostics& mistakes) {
  std::vector<const FileNamed*> named{&train.train, &train.route, &train.run};
  if (train.conditions) {
    named.push_back(&*train.conditions);
  }
  for (Diagnostic& mistake : mistakes) {
    for (const FileNamed* const file : named) {
      if (mistake.place.line == 0 && mistake.place.file == file->path) {
        mistake = {file->place, to_line(mistake)};
        break;
      }
    }
  }
}

class DayPlanner {
 public:
  explicit DayPlanner(const DayRequest& request)
      : request_(request), day_(*request.day), files_(request.files->source()) {
    result_.outcomes.resize(day_.trains.size());
    result_.readings.resize(request.with_readings ? day_.trains.size() : 0);
  }

  PlannedDay plan() {
    const std::vector<std::size_t> rows = departure_order(day_);
    std::atomic<std::size_t> next = 0;
    const auto work = [&] {
      for (std::size_t i = next++; i < rows.size() && !stopped(); i = next++) {
        result_.outcomes[rows[i]] = outcome_of_row(rows[i]);
        if (result_.outcomes[rows[i]]) {
          tell(rows[i], *result_.outcomes[rows[i]]);
        }
      }
    };
    std::vector<std::jthread> threads;
    for (std::size_t i = 1; i < std::min(thread_count(), rows.size()); ++i) {
      threads.emplace_back(work);
    }
    work();
    threads.clear();
    result_.planned = planned_;
    result_.kept = kept_;
    result_.stopped =
        !std::ranges::all_of(result_.outcomes, [](const auto& one) { return one.has_value(); });
    return std::move(result_);
  }

 private:
  bool stopped() const { return request_.stopped && request_.stopped(); }

  void tell(std::size_t row, const TrainOutcome& outcome) const {
    if (request_.came_out) {
      request_.came_out(row, outcome);
    }
    if (request_.done) {
      request_.done(row);
    }
  }

  std::size_t thread_count() const {
    if (request_.speed_from != SpeedFrom::tables) {
      return 1;
    }
    return request_.jobs > 0 ? static_cast<std::size_t>(request_.jobs)
                             : std::max(1U, std::thread::hardware_concurrency());
  }

  /// Nothing where it was stopped.
  std::optional<TrainOutcome> outcome_of_row(std::size_t row) {
    try {
      return looked_up_or_planned(row);
    } catch (const std::exception& error) {
      TrainOutcome outcome;
      outcome.decision = Decision::fault;
      outcome.fault = error.what();
      return outcome;
    }
  }

  std::optional<TrainOutcome> looked_up_or_planned(std::size_t row) {
    const PlanPaths paths = paths_of_row(request_, day_.trains[row]);
    const std::string key =
        request_.answers != nullptr ? key_of(paths, request_.speed_from) : std::string();
    if (request_.answers != nullptr && !request_.plan_all) {
      TrainReading reading;
      if (auto kept = request_.answers->find(key, *request_.files,
                                             request_.with_readings ? &reading : nullptr)) {
        ++kept_;
        if (request_.with_readings) {
          result_.readings[row] = std::move(reading);
        }
        return kept;
      }
    }
    return planned(row, paths, key);
  }

  std::optional<TrainOutcome> planned(std::size_t row, const PlanPaths& paths,
                                      const std::string& key) {
    Diagnostics mistakes;
    auto input = read_train_input(paths, request_.speed_from, files_, mistakes, &parsed_);
    if (!input) {
      TrainOutcome outcome;
      outcome.decision = Decision::input_mistake;
      place_at_row(day_.trains[row], mistakes);
      sort_by_place(mistakes);
      outcome.mistakes = std::move(mistakes);
      return outcome;
    }
    for (PlanInput& part : input->parts) {
      part.request.jobs = request_.speed_from == SpeedFrom::tables ? 1 : request_.jobs;
      part.request.stopped = request_.stopped;
      if (request_.speed_from != SpeedFrom::tables) {
        part.request.mechanics = request_.mechanics(part.mechanics.data, part.request.rules);
      }
    }
    const std::vector<std::string> files_not_there = not_there(*input);
    auto made = plan_parts(std::move(*input), request_.program_version);
    if (!made) {
      return std::nullopt;
    }
    const auto run = std::make_shared<const RunPlan>(std::move(*made));
    ++planned_;
    TrainOutcome outcome = panup::outcome_of(*run);
    if (request_.made) {
      request_.made(row, run);
    }
    if (request_.answers != nullptr &&
        !(request_.plan_all && request_.answers->find(key, *request_.files))) {
      request_.answers->add(key, *run, outcome, reading_of(*run, files_not_there));
    }
    if (request_.with_readings) {
      result_.readings[row] = reading_of(*run, files_not_there);
    }
    return outcome;
  }

  const DayRequest& request_;
  const DayFile& day_;
  FileSource files_;
  ParsedFiles parsed_;
  PlannedDay result_;
  std::atomic<std::size_t> planned_ = 0;
  std::atomic<std::size_t> kept_ = 0;
};

}  // namespace

PlanPaths paths_of_train(const DayFile& day, const DayTrain& train) {
  const auto& conditions = train.conditions ? train.conditions : day.conditions;
  return {.train = train.train.path,
          .route = train.route.path,
          .run_file = train.run.path,
          .conditions = conditions ? conditions->path : std::string(),
          .rules = paths_of_named(day.rules),
          .consents = paths_of_named(day.consents),
          .defects = paths_of_named(day.defects),
          .departure = train.run.path.empty() ? std::string() : train.departure,
          .run = TrainRun{.number = train.number,
                          .date = day.date,
                          .vehicles = train.vehicles,
                          .place = train.vehicles_place}};
}

Diagnostics mistakes_in_shared_files(const DayFile& day, const FileSource& files,
                                     SharedByTrains& shared) {
  Diagnostics mistakes;
  const auto loaded = [&](const FileNamed& named) {
    Diagnostics of_loading;
    auto source = files.load(named.path, of_loading);
    for (const Diagnostic& mistake : of_loading) {
      mistakes.push_back({named.place, to_line(mistake)});
    }
    return source;
  };
  // Those that cannot be read are said where the day names them, and not once more by the reader.
  if (std::ranges::all_of(day.rules,
                          [&](const FileNamed& book) { return loaded(book).has_value(); })) {
    if (const auto books = read_rule_books(paths_of_named(day.rules), day.date, mistakes, files)) {
      shared.rule_books = books->names;
    }
  }
  if (day.conditions) {
    if (const auto source = loaded(*day.conditions)) {
      if (is_for_networks(*source)) {
        read_network_conditions(*source, nullptr, mistakes);
      } else {
        read_conditions(*source, nullptr, mistakes);
      }
    }
  }
  for (const FileNamed& named : day.consents) {
    if (const auto source = loaded(named)) {
      read_consents(*source, mistakes);
    }
  }
  for (const FileNamed& named : day.defects) {
    const auto source = loaded(named);
    const auto defects = source ? read_defects(*source, mistakes) : std::nullopt;
    for (const RegisteredDefect& defect : defects.value_or(std::vector<RegisteredDefect>{})) {
      shared.registered_vehicles.push_back(defect.vehicle);
    }
  }
  return mistakes;
}

std::vector<InputFile> inputs_of_day(const std::string& path, const DayFile& day,
                                     FilesReadOnce& read) {
  std::vector<InputFile> inputs;
  const auto add = [&](const char* role, const std::string& of) {
    inputs.push_back({role, of, read.sha256_now(of)});
  };
  add("day", path);
  if (day.table) {
    add("table", day.table->path);
  }
  if (day.conditions) {
    add("conditions", day.conditions->path);
  }
  for (const FileNamed& book : day.rules) {
    add("rule book", book.path);
  }
  for (const FileNamed& consents : day.consents) {
    add("consents", consents.path);
  }
  for (const FileNamed& defects : day.defects) {
    add("defects", defects.path);
  }
  return inputs;
}

PlannedDay plan_day(const DayRequest& request) { return DayPlanner(request).plan(); }

std::vector<std::optional<ChangeSinceShown>> changes_since_shown(const DayRequest& request,
                                                                 const PlannedDay& planned) {
  std::vector<std::optional<ChangeSinceShown>> changes(planned.outcomes.size());
  for (std::size_t row = 0; row < changes.size(); ++row) {
    const auto& outcome = planned.outcomes[row];
    if (!outcome || outcome->decision <= Decision::input_mistake) {
      continue;
    }
    auto since = request.answers->since_shown(shown_of_row(request, row));
    if (!since) {
      continue;
    }
    TrainChange change = compare_trains({&since->shown.outcome, &since->shown.reading},
                                        {&since->now.outcome, &since->now.reading});
    if (change.changes()) {
      changes[row] = {std::move(since->shown.outcome), std::move(change)};
    }
  }
  return changes;
}

void note_shown(const DayRequest& request, const PlannedDay& planned) {
  std::vector<TrainShown> trains;
  for (std::size_t row = 0; row < planned.outcomes.size(); ++row) {
    const auto& outcome = planned.outcomes[row];
    if (outcome && outcome->decision > Decision::input_mistake) {
      trains.push_back(shown_of_row(request, row));
    }
  }
  request.answers->note_shown(trains);
}

}  // namespace panup
