#include "serve/day_work.h"

#include <fmt/format.h>

#include <algorithm>

#include "day/day_table.h"
#include "serve/reply.h"
#include "what_if/what_if_report.h"

namespace panup {

namespace {

/// Books of the server that the day names too count once, as they do for a single plan.
void put_first(const std::vector<std::string>& books, FilesReadOnce& once, DayFile& day) {
  std::vector<FileNamed> rules;
  std::vector<std::string> digests;
  for (const std::string& path : books) {
    rules.push_back({.path = path, .place = {.file = path}});
    digests.push_back(once.sha256_now(path));
  }
  std::erase_if(day.rules, [&](const FileNamed& book) {
    const std::string digest = once.sha256_now(book.path);
    return !digest.empty() && std::ranges::find(digests, digest) != digests.end();
  });
  day.rules.insert(day.rules.begin(), rules.begin(), rules.end());
}

DayRequest request_of(DayRead& read, const WorkPlace& place, const Words& words,
                      JobProgress& progress) {
  DayRequest request{.day = &read.day,
                     .files = &read.once,
                     .jobs = place.planning.jobs,
                     .program_version = place.planning.program_version,
                     .words = words,
                     .answers = place.answers.get()};
  request.stopped = [&progress] { return progress.stopped(); };
  return request;
}

constexpr const char* stopped_words = "it was stopped";

}  // namespace

std::shared_ptr<DayRead> read_day_of_library(const std::string& path, const PlanningPlace& place,
                                             Diagnostics& diagnostics) {
  auto read = std::make_shared<DayRead>(files_of(place));
  read->path = path;
  auto day = read_day_file(path, diagnostics, read->once.source());
  if (!day) {
    return nullptr;
  }
  read->day = std::move(*day);
  put_first(place.rules, read->once, read->day);
  diagnostics = mistakes_in_shared_files(read->day, read->once.source(), read->shared);
  return diagnostics.empty() ? read : nullptr;
}

std::shared_ptr<KeptAnswers> open_answers(const std::optional<std::string>& store,
                                          const std::function<void(const std::string&)>& warn) {
  const auto tell = [&warn](const std::string& text) {
    if (warn && !text.empty()) {
      warn(text);
    }
  };
  if (store) {
    auto opened = KeptAnswers::open(*store);
    if (auto* const answers = std::get_if<KeptAnswers>(&opened)) {
      return std::make_shared<KeptAnswers>(std::move(*answers));
    }
    tell(fmt::format("{}; the answers of days are kept while the server runs",
                     std::get<std::string>(opened)));
  }
  auto opened = KeptAnswers::open_in_memory();
  if (auto* const answers = std::get_if<KeptAnswers>(&opened)) {
    return std::make_shared<KeptAnswers>(std::move(*answers));
  }
  tell(std::get<std::string>(opened));
  return nullptr;
}

std::optional<JobWork> day_work(const AskedDay& asked, const WorkPlace& place,
                                Diagnostics& diagnostics) {
  const auto read = read_day_of_library(asked.day, place.planning, diagnostics);
  if (read == nullptr) {
    return std::nullopt;
  }
  return [read, place, words = asked.words](JobProgress& progress,
                                            std::string& error) -> std::optional<std::string> {
    progress.expect(read->day.trains.size());
    DayRequest request = request_of(*read, place, words, progress);
    request.came_out = [&](std::size_t row, const TrainOutcome& outcome) {
      progress.found({"train", compact_json(day_train_to_json(read->day.trains[row], outcome))});
      progress.did(1);
    };
    PlannedDay planned = plan_day(request);
    if (planned.stopped) {
      error = stopped_words;
      return std::nullopt;
    }
    const DayReport report{.day = &read->day,
                           .outcomes = std::move(planned.outcomes),
                           .speed_from = request.speed_from,
                           .inputs = inputs_of_day(read->path, read->day, read->once),
                           .registered_vehicles = read->shared.registered_vehicles,
                           .rule_books = read->shared.rule_books,
                           .program_version = place.planning.program_version,
                           .words = words};
    return compact_json(day_to_json(report));
  };
}

std::optional<JobWork> what_if_work(const AskedWhatIf& asked, const WorkPlace& place,
                                    Diagnostics& diagnostics) {
  const auto read = read_day_of_library(asked.day, place.planning, diagnostics);
  if (read == nullptr) {
    return std::nullopt;
  }
  const FileSource files = read->once.source();
  auto other = read_what_if_file(asked.what_if, diagnostics, files);
  SharedByTrains shared_then;
  if (other) {
    diagnostics = mistakes_between(asked.day, read->day, *other, files);
  }
  if (other && diagnostics.empty()) {
    diagnostics =
        mistakes_in_shared_files(changed_day(read->day, *other),
                                 with_replaced(files, replaced_files_of(*other)), shared_then);
  }
  if (!diagnostics.empty()) {
    return std::nullopt;
  }
  return [read, place, path = asked.what_if, words = asked.words,
          what_if = std::make_shared<const WhatIf>(std::move(*other)),
          books_then = std::move(shared_then.rule_books)](
             JobProgress& progress, std::string& error) -> std::optional<std::string> {
    progress.expect(2 * read->day.trains.size());
    DayRequest request = request_of(*read, place, words, progress);
    request.done = [&](std::size_t) { progress.did(1); };
    WhatIfReport report{.day = &read->day,
                        .what_if = what_if.get(),
                        .planned = plan_what_if(request, *what_if),
                        .speed_from = request.speed_from,
                        .inputs = inputs_of_day(read->path, read->day, read->once),
                        .rule_books = read->shared.rule_books,
                        .rule_books_then = books_then,
                        .program_version = place.planning.program_version,
                        .words = words};
    if (report.planned.stopped) {
      error = stopped_words;
      return std::nullopt;
    }
    add_inputs(report.inputs, path, *what_if, read->once);
    return compact_json(what_if_to_json(report));
  };
}

}  // namespace panup
