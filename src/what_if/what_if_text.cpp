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

std::string changes_words(const WhatIf& what_if, const Words& words) {
  std::vector<std::string> said;
  if (what_if.conditions) {
    said.push_back(words.say("conditions {}", what_if.conditions->path));
  }
  for (const FileNamed& file : what_if.rules) {
    said.push_back(words.say("rule book {}", file.path));
  }
  for (const FileNamed& file : what_if.consents) {
    said.push_back(words.say("consents {}", file.path));
  }
  for (const FileNamed& file : what_if.defects) {
    said.push_back(words.say("defects {}", file.path));
  }
  for (const FileInPlace& one : what_if.replaced_files) {
    said.push_back(words.say("{} in the place of {}", one.by.path, one.file.path));
  }
  for (const ReplacedClass& one : what_if.replaced_classes) {
    said.push_back(words.say("class {} in the place of {}", one.by, one.id));
  }
  return fmt::format("{}: {}.", what_if.name, fmt::join(said, "; "));
}

std::string answer_line(const WhatIfReport& report) {
  const std::vector<std::size_t> counts = counts_of(report);
  const std::size_t all = report.planned.changes.size();
  const std::size_t no_plan = counts[static_cast<std::size_t>(TrainFate::no_plan)];
  const std::size_t unchanged = counts[static_cast<std::size_t>(TrainFate::unchanged)];
  const Words& words = report.words;
  const std::size_t changing = all - no_plan - unchanged;
  std::string said = words.say_of(changing, "{} of {} change", "{} of {} change", changing,
                                  trains_counted(all, words));
  std::string separator = ": ";
  for (std::size_t i = 0; i < train_fates; ++i) {
    const auto fate = static_cast<TrainFate>(i);
    if (counts[i] > 0 && fate != TrainFate::no_plan && fate != TrainFate::unchanged) {
      said += separator + counted(counts[i], name_of(fate), words);
      separator = ", ";
    }
  }
  return said + (no_plan > 0 ? words.say("; {} cannot be compared.", no_plan) : ".");
}

std::string lost_line(const WhatIfReport& report) {
  const Words& words = report.words;
  const TimeLost lost = time_lost(report);
  if (lost.longer_s <= 0 && lost.shorter_s <= 0) {
    return words.say("no time.");
  }
  const std::string longer = minutes_words(lost.longer_s, words);
  const std::string trains = trains_counted(lost.trains_longer, words);
  return lost.shorter_s > 0 ? words.say("{} by {}; others run {} shorter.", longer, trains,
                                        minutes_words(lost.shorter_s, words))
                            : words.say("{} by {}.", longer, trains);
}

std::string head(const WhatIfReport& report) {
  const Words& words = report.words;
  const DayFile& day = *report.day;
  std::string out;
  if (invented(report)) {
    out += invented_words(words) + "\n\n";
  }
  out +=
      fact_line(words.say("Day"),
                plain(day.name == day.date ? day.date : fmt::format("{}, {}", day.date, day.name)));
  out += fact_line(words.say("What if"), plain(changes_words(*report.what_if, words)));
  const std::string then = words.say(", then ");
  const std::string books = fmt::to_string(fmt::join(report.rule_books, then));
  out += fact_line(words.say("Rules"),
                   plain(report.rule_books == report.rule_books_then
                             ? books
                             : words.say("{}; if so, {}", books,
                                         fmt::to_string(fmt::join(report.rule_books_then, then)))));
  if (report.speed_from != SpeedFrom::tables) {
    out += fact_line(words.say("Speeds"), speed_from_words(report.speed_from, words));
  }
  out += fact_line(words.say("Answer"), answer_line(report));
  out += fact_line(words.say("Lost"), lost_line(report));
  const auto cards = std::ranges::count_if(report.planned.changes, &TrainChange::card_again);
  out += fact_line(words.say("Cards"), cards == 0 ? words.say("all hold.")
                                                  : words.say("{} to be issued again.", cards));
  return out;
}

std::string trains_that_change(const WhatIfReport& report) {
  const Words& words = report.words;
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
    const std::string fate = words.named(name_of(change.fate));
    const std::string heading = fmt::format("{}, {}", train.number, train_words(train, named));
    out += '\n';
    out += hanging("  ",
                   plain(train.departure.empty() ? fmt::format("{}: {}", heading, fate)
                                                 : words.say("{}, leaves {}: {}", heading,
                                                             departure_words(train), fate)),
                   text_columns);
    for (const std::string& line : change_lines(change, before, then, words)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out.empty()
             ? "\n" + words.say("No train changes.") + "\n"
             : "\n" + words.say("TRAINS THAT CHANGE, what needs a decision first") + "\n" + out;
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
             : "\n" + hanging(report.words.say("Unchanged") + "  ",
                              plain(fmt::format("{}.", fmt::join(numbers, ", "))), text_columns);
}

}  // namespace

std::string what_if_to_text(const WhatIfReport& report) {
  return head(report) + trains_that_change(report) + unchanged_line(report) +
         text_list(report.words.say("NOTES"), what_if_notes(report)) +
         text_list(report.words.say("CAUTIONS"), cautions("comparison", report.words)) +
         made_from(report.inputs, report.program_version, report.words);
}

}  // namespace panup
