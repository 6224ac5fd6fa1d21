#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "day/day_table.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "what_if/what_if_report.h"

namespace panup {

namespace {

constexpr std::size_t stretches_shown = 4;
constexpr std::size_t orders_shown = 2;
constexpr std::size_t sayings_shown = 2;

std::string counted(std::size_t number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

/// To a tenth of a minute: less is no loss that a timetable knows.
std::string minutes(double seconds) {
  constexpr double seconds_a_minute = 60;
  return fmt::format("{:.1f} min", seconds / seconds_a_minute);
}

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
  return fmt::format("{} by {}{}.", minutes(lost.longer_s), counted(lost.trains_longer, "train"),
                     lost.shorter_s > 0
                         ? fmt::format("; others run {} shorter", minutes(lost.shorter_s))
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

std::string up_words(const HowItRuns& runs) {
  if (runs.answer == Answer::none) {
    return "no permitted configuration";
  }
  if (!runs.lowered_for.empty()) {
    return "all down for " + runs.lowered_for;
  }
  return with_up(runs.raised, runs.put_dead_in_tow) +
         (runs.answer == Answer::consent_needed ? ", consent needed" : "");
}

std::string speed_words(const HowItRuns& runs) {
  return runs.answer == Answer::none ? std::string("no speed")
                                     : fmt::format("{} km/h ({})", speed_figure(runs.speed_kmh),
                                                   uncapitalised(runs.speed_reason));
}

/// What else differs, where neither what is up nor the speed does.
std::string rest_words(const HowItRuns& before, const HowItRuns& then) {
  std::vector<std::string> words;
  if (before.iced != then.iced) {
    words.emplace_back(then.iced ? "ice" : "no ice");
  }
  if (before.least_distance_m != then.least_distance_m) {
    words.emplace_back("another distance between those up");
  }
  if (before.supply != then.supply) {
    words.emplace_back("another energy supply");
  }
  if (before.reversed != then.reversed) {
    words.emplace_back("the other direction");
  }
  return fmt::format("{}", fmt::join(words, ", "));
}

std::string stretch_words(const ChangedStretch<HowItRuns>& stretch) {
  const auto& [before, then] = stretch.how;
  std::string words;
  if (!before || !then) {
    words = then ? "not planned before: " + up_words(*then) + ", " + speed_words(*then)
                 : "not planned any more";
  } else {
    if (up_words(*before) != up_words(*then)) {
      words = fmt::format("{} instead of {}", up_words(*then), up_words(*before));
    }
    if (speed_words(*before) != speed_words(*then)) {
      words += fmt::format("{}{} instead of {}", words.empty() ? "" : "; ", speed_words(*then),
                           speed_words(*before));
    }
    if (words.empty()) {
      words = rest_words(*before, *then);
    }
  }
  return fmt::format("km {}: {}.", km_range(stretch.from_km, stretch.to_km), words);
}

void add_sayings(std::vector<std::string>& lines, std::string_view fresh, std::string_view dropped,
                 const std::vector<ChangedSaying>& sayings) {
  std::size_t shown = 0;
  for (const ChangedSaying& said : sayings) {
    if (++shown > sayings_shown) {
      lines.push_back(fmt::format("And {} more of that sort.", sayings.size() - sayings_shown));
      return;
    }
    lines.push_back(said.then.empty()
                        ? fmt::format("{}: {} (rule {})", dropped, said.text, said.rule)
                        : fmt::format("{} on {}{}: {} (rule {})", fresh, km_list(said.then),
                                      said.before.empty() ? std::string()
                                                          : ", before on " + km_list(said.before),
                                      said.text, said.rule));
  }
}

std::string order_words(const BeforeAndThen<ReadOrder>& order) {
  if (!order.before) {
    return fmt::format("New order at km {}: {}", km_brief(order.then->at_km), order.then->text);
  }
  if (!order.then) {
    return fmt::format("Dropped at km {}: {}", km_brief(order.before->at_km), order.before->text);
  }
  if (order.then->at_km == order.before->at_km) {
    return fmt::format("Other order at km {}: {}", km_brief(order.then->at_km), order.then->text);
  }
  return fmt::format("Order at km {} instead of {}: {}", km_brief(order.then->at_km),
                     km_brief(order.before->at_km), order.then->text);
}

void add_orders(std::vector<std::string>& lines,
                const std::vector<BeforeAndThen<ReadOrder>>& orders) {
  if (orders.empty()) {
    return;
  }
  if (orders.size() <= orders_shown) {
    for (const auto& order : orders) {
      lines.push_back(order_words(order));
    }
    return;
  }
  const auto fresh = std::ranges::count_if(orders, [](const auto& one) { return !one.before; });
  const auto dropped = std::ranges::count_if(orders, [](const auto& one) { return !one.then; });
  lines.push_back(fmt::format("Orders: {} new, {} dropped, {} other; the first: {}", fresh, dropped,
                              static_cast<std::ptrdiff_t>(orders.size()) - fresh - dropped,
                              uncapitalised(order_words(orders.front()))));
}

std::string failure_differs(const ChangedFailure& failure) {
  const auto& answer = failure.answer;
  if (!answer.before || !answer.then) {
    return answer.then ? "is new" : "is no longer asked";
  }
  std::vector<std::string> words;
  if (*answer.before != *answer.then) {
    words.push_back(
        fmt::format("{} instead of {}", name_of(*answer.then), name_of(*answer.before)));
  }
  const auto any = [&](const auto& differs) {
    const auto one = [&](const ChangedStretch<WhatRemains>& stretch) {
      return stretch.how.before && stretch.how.then &&
             differs(*stretch.how.before, *stretch.how.then);
    };
    return std::ranges::any_of(failure.before_departure, one) ||
           std::ranges::any_of(failure.on_the_road, one);
  };
  const auto add_if = [&](std::string_view what, const auto& differs) {
    if (any(differs)) {
      words.emplace_back(what);
    }
  };
  add_if("another answer on some stretch", [&](const WhatRemains& a, const WhatRemains& b) {
    return *answer.before == *answer.then && a.answer != b.answer;
  });
  add_if("other pantographs",
         [](const WhatRemains& a, const WhatRemains& b) { return a.raised != b.raised; });
  add_if("other vehicles dead in tow", [](const WhatRemains& a, const WhatRemains& b) {
    return a.put_dead_in_tow != b.put_dead_in_tow;
  });
  add_if("another speed",
         [](const WhatRemains& a, const WhatRemains& b) { return a.speed_kmh != b.speed_kmh; });
  add_if("another reach", [](const WhatRemains& a, const WhatRemains& b) {
    return a.reaches_km != b.reaches_km || a.stranded != b.stranded;
  });
  return words.empty() ? "on other stretches" : fmt::format("{}", fmt::join(words, ", "));
}

/// Pantographs whose failure differs in the same stand together.
void add_failures(std::vector<std::string>& lines, const std::vector<ChangedFailure>& failures) {
  std::vector<std::pair<std::string, std::vector<PantographRef>>> said;
  for (const ChangedFailure& failure : failures) {
    const std::string differs = failure_differs(failure);
    auto same = std::ranges::find_if(said, [&](const auto& one) { return one.first == differs; });
    if (same == said.end()) {
      same = said.insert(said.end(), {differs, {}});
    }
    same->second.push_back(failure.failed);
  }
  for (const auto& [differs, failed] : said) {
    lines.push_back(fmt::format("If {} fails: {}.", either_words(failed), differs));
  }
}

std::string time_words(const TrainChange& change, const TrainOutcome& before,
                       const TrainOutcome& then) {
  if (!change.longer_s) {
    return before.running_time_s > 0 ? "No running time any more."
           : then.running_time_s > 0
               ? fmt::format("Running time {}, none before.", duration_words(then.running_time_s))
               : std::string();
  }
  if (std::abs(*change.longer_s) < least_loss_s) {
    return {};
  }
  return fmt::format("Running time {} instead of {}, {} {}.", duration_words(then.running_time_s),
                     duration_words(before.running_time_s), minutes(std::abs(*change.longer_s)),
                     *change.longer_s > 0 ? "longer" : "shorter");
}

std::string why_no_plan(const TrainOutcome& outcome, std::vector<std::string>& lines) {
  if (outcome.decision == Decision::fault) {
    return "there is none, by a fault of the program: " + outcome.fault;
  }
  if (outcome.decision == Decision::input_mistake) {
    for (const Diagnostic& mistake : outcome.mistakes) {
      lines.push_back(to_line(mistake));
    }
    return "there is none, its input has mistakes.";
  }
  return outcome.answer;
}

void add_not_compared(std::vector<std::string>& lines, const TrainOutcome& before,
                      const TrainOutcome& then) {
  std::vector<std::string> mistakes;
  std::vector<std::string> as_before;
  lines.push_back("Its plan today: " + why_no_plan(before, as_before));
  lines.push_back("Its plan then: " + why_no_plan(then, mistakes));
  for (std::string& line : mistakes.empty() ? as_before : mistakes) {
    lines.push_back(std::move(line));
  }
}

void add_consents(std::vector<std::string>& lines, std::string_view how,
                  const std::vector<ConsentName>& consents) {
  for (const ConsentName& consent : consents) {
    lines.push_back(fmt::format("{}: consent {} of {}.", how, consent.reference, consent.given_by));
  }
}

std::vector<std::string> change_lines(const TrainChange& change, const TrainOutcome& before,
                                      const TrainOutcome& then) {
  std::vector<std::string> lines;
  if (change.fate == TrainFate::no_plan) {
    add_not_compared(lines, before, then);
    return lines;
  }
  if (before.answer != then.answer) {
    lines.push_back(fmt::format("{} Before: {}", then.answer, uncapitalised(before.answer)));
  }
  add_sayings(lines, "Forbidden", "No longer forbidden", change.forbidden);
  add_sayings(lines, "Consent needed", "No longer needs consent", change.consents_missing);
  add_sayings(lines, "Last resort", "No longer a last resort", change.last_resorts);
  add_consents(lines, "Newly rests on", change.consents_newly_used);
  add_consents(lines, "No longer rests on", change.consents_no_longer_used);
  for (std::size_t i = 0; i < std::min(change.stretches.size(), stretches_shown); ++i) {
    lines.push_back(stretch_words(change.stretches[i]));
  }
  if (change.stretches.size() > stretches_shown) {
    const std::size_t more = change.stretches.size() - stretches_shown;
    lines.push_back(fmt::format("And {} more stretch{}.", more, more == 1 ? "" : "es"));
  }
  add_orders(lines, change.orders);
  add_failures(lines, change.failures);
  if (std::string words = time_words(change, before, then); !words.empty()) {
    lines.push_back(std::move(words));
  }
  lines.push_back(change.card_again
                      ? fmt::format("Its card is to be issued again. Changed on it: {}.",
                                    fmt::join(change.card_parts, ", "))
                      : std::string("Its card holds."));
  return lines;
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
