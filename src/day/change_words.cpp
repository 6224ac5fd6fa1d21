#include "day/change_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "drawing/text.h"

namespace panup {

namespace {

constexpr std::size_t stretches_shown = 4;
constexpr std::size_t orders_shown = 2;
constexpr std::size_t sayings_shown = 2;

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
                     duration_words(before.running_time_s),
                     minutes_words(std::abs(*change.longer_s)),
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

}  // namespace

std::string counted(std::size_t number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

std::string minutes_words(double seconds) {
  constexpr double seconds_a_minute = 60;
  return fmt::format("{:.1f} min", seconds / seconds_a_minute);
}

std::vector<std::string> difference_lines(const TrainChange& change, const TrainOutcome& before,
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
  return lines;
}

std::vector<std::string> change_lines(const TrainChange& change, const TrainOutcome& before,
                                      const TrainOutcome& then) {
  std::vector<std::string> lines = difference_lines(change, before, then);
  if (change.fate != TrainFate::no_plan) {
    lines.push_back(change.card_again
                        ? fmt::format("Its card is to be issued again. Changed on it: {}.",
                                      fmt::join(change.card_parts, ", "))
                        : std::string("Its card holds."));
  }
  return lines;
}

}  // namespace panup
