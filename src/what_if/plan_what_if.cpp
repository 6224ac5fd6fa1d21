#include "what_if/plan_what_if.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

bool holds(const std::vector<std::string>& list, const std::string& one) {
  return std::ranges::find(list, one) != list.end();
}

/// Whether anything that is another way touches a train, by what its plan of today was made from.
class Touched {
 public:
  Touched(const DayFile& day, const WhatIf& what_if)
      : day_(day), what_if_(what_if), replaced_(replaced_files_of(what_if)) {}

  bool by_anything(const DayTrain& train, const TrainReading& reading) const {
    return !what_if_.rules.empty() || !what_if_.consents.empty() || !what_if_.defects.empty() ||
           by_conditions(train) || by_files(reading.files) || by_files(reading.not_there) ||
           by_classes(reading.classes);
  }

 private:
  bool by_conditions(const DayTrain& train) const {
    const auto& planned = train.conditions ? train.conditions : day_.conditions;
    return what_if_.conditions && (!planned || planned->path != what_if_.conditions->path);
  }
  bool by_files(const std::vector<std::string>& paths) const {
    return std::ranges::any_of(
        paths, [this](const std::string& path) { return path_read_for(path, replaced_) != path; });
  }
  bool by_classes(const std::vector<std::string>& classes) const {
    return std::ranges::any_of(what_if_.replaced_classes, [&](const ReplacedClass& replaced) {
      return holds(classes, replaced.id);
    });
  }

  const DayFile& day_;
  const WhatIf& what_if_;
  std::vector<ReplacedFile> replaced_;
};

/// Files and classes in the place of which another stands, though no train has them.
std::vector<std::string> of_no_use(const WhatIf& what_if,
                                   const std::vector<std::optional<TrainReading>>& then,
                                   const Words& words) {
  std::vector<std::string> notes;
  const bool all_known = std::ranges::all_of(then, [](const auto& one) { return one.has_value(); });
  const auto any = [&](const auto& matches) {
    return std::ranges::any_of(then, [&](const auto& one) { return one && matches(*one); });
  };
  for (const FileInPlace& replaced : what_if.replaced_files) {
    if (!any([&](const TrainReading& one) { return holds(one.files, replaced.by.path); })) {
      notes.push_back(
          all_known
              ? words.say("No train of the day is planned with {}: that {} is read in its place "
                          "changes nothing.",
                          replaced.file.path, replaced.by.path)
              : words.say("No planned train of the day is planned with {}: that {} is read in its "
                          "place changes nothing.",
                          replaced.file.path, replaced.by.path));
    }
  }
  for (const ReplacedClass& replaced : what_if.replaced_classes) {
    if (!any([&](const TrainReading& one) { return holds(one.in_place_of, replaced.id); })) {
      notes.push_back(
          all_known
              ? words.say("No train of the day has a locomotive or electric unit of class {}: that "
                          "{} runs in its place changes nothing.",
                          replaced.id, replaced.by)
              : words.say("No planned train of the day has a locomotive or electric unit of class "
                          "{}: that {} runs in its place changes nothing.",
                          replaced.id, replaced.by));
    }
  }
  return notes;
}

const TrainReading* reading_or_null(const std::optional<TrainReading>& reading) {
  return reading ? &*reading : nullptr;
}

}  // namespace

DayFile changed_day(const DayFile& day, const WhatIf& what_if) {
  DayFile other = day;
  if (what_if.conditions) {
    other.conditions = what_if.conditions;
    for (DayTrain& train : other.trains) {
      train.conditions.reset();
    }
  }
  other.rules.insert(other.rules.end(), what_if.rules.begin(), what_if.rules.end());
  other.consents.insert(other.consents.end(), what_if.consents.begin(), what_if.consents.end());
  other.defects.insert(other.defects.end(), what_if.defects.begin(), what_if.defects.end());
  return other;
}

std::vector<ReplacedFile> replaced_files_of(const WhatIf& what_if) {
  std::vector<ReplacedFile> replaced;
  for (const FileInPlace& one : what_if.replaced_files) {
    replaced.push_back({one.file.path, one.by.path});
  }
  return replaced;
}

Diagnostics mistakes_between(const std::string& day_path, const DayFile& day, const WhatIf& what_if,
                             const FileSource& files) {
  Diagnostics mistakes;
  for (const FileNamed& named : files_named_by(what_if)) {
    Diagnostics of_loading;
    files.load(named.path, of_loading);
    for (const Diagnostic& mistake : of_loading) {
      mistakes.push_back({named.place, to_line(mistake)});
    }
  }
  const auto again = [&](const std::vector<FileNamed>& added, const std::vector<FileNamed>& days) {
    for (const FileNamed& named : added) {
      if (std::ranges::find(days, named.path, &FileNamed::path) != days.end()) {
        mistakes.push_back(
            {named.place, fmt::format("{} is one of the day's already; leave it out", named.path)});
      }
    }
  };
  again(what_if.rules, day.rules);
  again(what_if.consents, day.consents);
  again(what_if.defects, day.defects);
  const std::vector<ReplacedFile> replaced = replaced_files_of(what_if);
  for (std::size_t i = 0; i < replaced.size(); ++i) {
    const std::vector<ReplacedFile> one{replaced[i]};
    if (path_read_for(day_path, one) != day_path ||
        (day.table && path_read_for(day.table->path, one) != day.table->path)) {
      mistakes.push_back({what_if.replaced_files[i].file.place,
                          fmt::format("{} says which trains the day has, and cannot be replaced; "
                                      "plan the other day by itself",
                                      replaced[i].file)});
    }
  }
  return mistakes;
}

void add_inputs(std::vector<InputFile>& inputs, const std::string& path, const WhatIf& what_if,
                FilesReadOnce& read) {
  const auto add = [&](const char* role, const std::string& of) {
    inputs.push_back({role, of, read.sha256_now(of)});
  };
  add("what if", path);
  if (what_if.conditions) {
    add("conditions", what_if.conditions->path);
  }
  for (const auto& [role, files] :
       {std::pair{"rule book", &what_if.rules}, std::pair{"consents", &what_if.consents},
        std::pair{"defects", &what_if.defects}}) {
    for (const FileNamed& file : *files) {
      add(role, file.path);
    }
  }
  for (const FileInPlace& one : what_if.replaced_files) {
    add("replaced", one.file.path);
    add("in place", one.by.path);
  }
}

PlannedWhatIf plan_what_if(const DayRequest& today, const WhatIf& what_if) {
  const DayFile& day = *today.day;
  DayRequest as_it_is = today;
  as_it_is.with_readings = true;
  PlannedDay before = plan_day(as_it_is);
  PlannedWhatIf result{.before = std::move(before.outcomes),
                       .then = {},
                       .changes = {},
                       .planned = before.planned,
                       .kept = before.kept,
                       .untouched = 0,
                       .notes = {},
                       .stopped = before.stopped};
  result.then.resize(day.trains.size());
  if (result.stopped) {
    return result;
  }
  const Touched touched(day, what_if);
  DayFile other = changed_day(day, what_if);
  std::vector<std::size_t> rows;
  std::vector<std::optional<TrainReading>> readings(day.trains.size());
  std::vector<DayTrain> trains;
  for (std::size_t row = 0; row < day.trains.size(); ++row) {
    const auto& reading = before.readings[row];
    if (reading && !touched.by_anything(day.trains[row], *reading)) {
      result.then[row] = result.before[row];
      readings[row] = reading;
      ++result.untouched;
      if (today.done) {
        today.done(row);
      }
    } else {
      rows.push_back(row);
      trains.push_back(std::move(other.trains[row]));
    }
  }
  other.trains = std::move(trains);
  DayRequest as_it_would_be = as_it_is;
  as_it_would_be.day = &other;
  as_it_would_be.replaced_files = replaced_files_of(what_if);
  as_it_would_be.replaced_classes = what_if.replaced_classes;
  PlannedDay then = plan_day(as_it_would_be);
  result.planned += then.planned;
  result.kept += then.kept;
  result.stopped = then.stopped;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    result.then[rows[i]] = std::move(then.outcomes[i]);
    readings[rows[i]] = std::move(then.readings[i]);
  }
  if (result.stopped) {
    return result;
  }
  for (std::size_t row = 0; row < day.trains.size(); ++row) {
    result.changes.push_back(
        compare_trains({&*result.before[row], reading_or_null(before.readings[row])},
                       {&*result.then[row], reading_or_null(readings[row])}));
  }
  result.notes = of_no_use(what_if, readings, today.words);
  return result;
}

}  // namespace panup
