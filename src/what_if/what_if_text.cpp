#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "day/change_words.h"
#include "day/day_table.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "what_if/what_if_report.h"

namespace panup {

namespace {

std::string changes_words(const WhatIf& what_if) {
  std::vector<std::string> words;
  if (what_if.conditions) {
    words.push_back("conditions " + what_if.conditions->path);
  }
  const auto list = [&words](std::string_view what, const std::vector<FileNamed>& files) {
    for (const FileNamed& file : files) {
      words.push_back(fmt::format("{} {}", what, file.path));
    }
  };
  list("rule book", what_if.rules);
  list("consents", what_if.consents);
  list("defects", what_if.defects);
  for (const FileInPlace& one : what_if.replaced_files) {
    words.push_back(fmt::format("{} in the place of {}", one.by.path, one.file.path));
  }
  for (const ReplacedClass& one : what_if.replaced_classes) {
    words.push_back(fmt::format("class {} in the place of {}", one.by, one.id));
  }
  return fmt::format("{}: {}.", what_if.name, fmt::join(words, "; "));
}

std::string answer_line(const WhatIfReport& report) {
  const std::vector<std::size_t> counts = counts_of(report);
  const std::size_t all = report.planned.changes.size();
  const std::size_t no_plan = counts[static_cast<std::size_t>(TrainFate::no_plan)];
  const std::size_t unchanged = counts[static_cast<std::size_t>(TrainFate::unchanged)];
  std::string words =
      fmt::format("{} of {} change", all - no_plan - unchanged, counted(all, "train"));
  std::string separator = ": ";
  for (std::size_t i = 0; i < train_fates; ++i) {
    const auto fate = static_cast<TrainFate>(i);
    if (counts[i] > 0 && fate != TrainFate::no_plan && fate != TrainFate::unchanged) {
      words += fmt::format("{}{} {}", separator, counts[i], name_of(fate));
      separator = ", ";
    }
  }
  return words + (no_plan > 0 ? fmt::format("; {} cannot be compared.", no_plan) : ".");
}

std::string lost_line(const WhatIfReport& report) {
  const TimeLost lost = time_lost(report);
  if (lost.longer_s <= 0 && lost.shorter_s <= 0) {
    return "no time.";
  }
  return fmt::format(
      "{} by {}{}.", minutes_words(lost.longer_s), counted(lost.trains_longer, "train"),
      lost.shorter_s > 0 ? fmt::format("; others run {} shorter", minutes_words(lost.shorter_s))
                         : std::string());
}

std::string head(const WhatIfReport& report) {
  const DayFile& day = *report.day;
  std::string out;
  if (invented(report)) {
    out += std::string(invented_mark) + "\n\n";
  }
  out += hanging("Day      ",
                 plain(day.name == day.date ? day.date : fmt::format("{}, {}", day.date, day.name)),
                 text_columns);
  out += hanging("What if  ", plain(changes_words(*report.what_if)), text_columns);
  out += hanging("Rules    ",
                 plain(report.rule_books == report.rule_books_then
                           ? fmt::format("{}", fmt::join(report.rule_books, ", then "))
                           : fmt::format("{}; if so, {}", fmt::join(report.rule_books, ", then "),
                                         fmt::join(report.rule_books_then, ", then "))),
                 text_columns);
  if (report.speed_from != SpeedFrom::tables) {
    out += hanging("Speeds   ", speed_from_words(report.speed_from), text_columns);
  }
  out += hanging("Answer   ", answer_line(report), text_columns);
  out += hanging("Lost     ", lost_line(report), text_columns);
  const auto cards = std::ranges::count_if(report.planned.changes, &TrainChange::card_again);
  out +=
      hanging("Cards    ",
              cards == 0 ? std::string("all hold.") : fmt::format("{} to be issued again.", cards),
              text_columns);
  return out;
}

std::string trains_that_change(const WhatIfReport& report) {
  std::string out;
  for (const std::size_t row : desk_order(report)) {
    const TrainChange& change = report.planned.changes[row];
    if (!change.changes()) {
      continue;
    }
    const DayTrain& train = report.day->trains[row];
    const TrainOutcome& before = *report.planned.before[row];
    const TrainOutcome& then = *report.planned.then[row];
    const TrainOutcome& named = then.train_name.empty() ? before : then;
    out += '\n';
    out += hanging(
        "  ",
        plain(fmt::format("{}, {}{}: {}", train.number, train_words(train, named),
                          train.departure.empty() ? "" : ", leaves " + departure_words(train),
                          name_of(change.fate))),
        text_columns);
    for (const std::string& line : change_lines(change, before, then)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out.empty() ? "\nNo train changes.\n"
                     : "\nTRAINS THAT CHANGE, what needs a decision first\n" + out;
}

std::string unchanged_line(const WhatIfReport& report) {
  std::vector<std::string> numbers;
  for (const std::size_t row : desk_order(report)) {
    if (!report.planned.changes[row].changes()) {
      numbers.push_back(report.day->trains[row].number);
    }
  }
  return numbers.empty()
             ? std::string()
             : "\n" + hanging("Unchanged  ", plain(fmt::format("{}.", fmt::join(numbers, ", "))),
                              text_columns);
}

}  // namespace

std::string what_if_to_text(const WhatIfReport& report) {
  return head(report) + trains_that_change(report) + unchanged_line(report) +
         text_list("NOTES", what_if_notes(report)) + text_list("CAUTIONS", cautions("comparison")) +
         made_from(report.inputs, report.program_version);
}

}  // namespace panup
