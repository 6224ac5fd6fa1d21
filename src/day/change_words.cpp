#include "day/change_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "base/capitals.h"

namespace panup {

namespace {

constexpr std::size_t stretches_shown = 4;
constexpr std::size_t orders_shown = 2;
constexpr std::size_t sayings_shown = 2;

std::string up_words(const HowItRuns& runs, const Words& words) {
  if (runs.answer == Answer::none) {
    return words.say("no permitted configuration");
  }
  if (!runs.lowered_for.empty()) {
    return words.say("all down for {}", runs.lowered_for);
  }
  const std::string up = with_up(runs.raised, runs.put_dead_in_tow, words);
  return runs.answer == Answer::consent_needed ? words.say("{}, consent needed", up) : up;
}

std::string speed_words(const HowItRuns& runs, const Words& words) {
  return runs.answer == Answer::none
             ? words.say("no speed")
             : words.say("{} km/h ({})", speed_figure(runs.speed_kmh, words),
                         uncapitalised(runs.speed_reason, words));
}

std::string instead_words(const std::string& then, const std::string& before, const Words& words) {
  return words.say("{} instead of {}", then, before);
}

/// What else differs, where neither what is up nor the speed does.
std::string rest_words(const HowItRuns& before, const HowItRuns& then, const Words& words) {
  std::vector<std::string> said;
  if (before.iced != then.iced) {
    said.push_back(then.iced ? words.say("ice") : words.say("no ice"));
  }
  if (before.least_distance_m != then.least_distance_m) {
    said.push_back(words.say("another distance between those up"));
  }
  if (before.supply != then.supply) {
    said.push_back(words.say("another energy supply"));
  }
  if (before.reversed != then.reversed) {
    said.push_back(words.say("the other direction"));
  }
  return fmt::to_string(fmt::join(said, ", "));
}

std::string stretch_words(const ChangedStretch<HowItRuns>& stretch, const Words& words) {
  const auto& [before, then] = stretch.how;
  std::string said;
  if (!then) {
    said = words.say("not planned any more");
  } else if (!before) {
    said =
        words.say("not planned before: {}, {}", up_words(*then, words), speed_words(*then, words));
  } else {
    const std::string up_before = up_words(*before, words);
    const std::string up_then = up_words(*then, words);
    if (up_before != up_then) {
      said = instead_words(up_then, up_before, words);
    }
    const std::string speed_before = speed_words(*before, words);
    const std::string speed_then = speed_words(*then, words);
    if (speed_before != speed_then) {
      said += (said.empty() ? "" : "; ") + instead_words(speed_then, speed_before, words);
    }
    if (said.empty()) {
      said = rest_words(*before, *then, words);
    }
  }
  return words.say("km {}: {}.", km_range(stretch.from_km, stretch.to_km, words), said);
}

/// What is said now, and what is said no more, with one strength.
struct SayingLabels {
  std::string fresh;
  std::string dropped;
};

std::string saying_words(const SayingLabels& labels, const ChangedSaying& said,
                         const Words& words) {
  if (said.then.empty()) {
    return words.say("{}: {} (rule {})", labels.dropped, said.text, said.rule);
  }
  const std::string where = km_list(said.then, words);
  return said.before.empty()
             ? words.say("{} on {}: {} (rule {})", labels.fresh, where, said.text, said.rule)
             : words.say("{} on {}, before on {}: {} (rule {})", labels.fresh, where,
                         km_list(said.before, words), said.text, said.rule);
}

void add_sayings(std::vector<std::string>& lines, const SayingLabels& labels,
                 const std::vector<ChangedSaying>& sayings, const Words& words) {
  std::size_t shown = 0;
  for (const ChangedSaying& said : sayings) {
    if (++shown > sayings_shown) {
      lines.push_back(words.say("And {} more of that sort.", sayings.size() - sayings_shown));
      return;
    }
    lines.push_back(saying_words(labels, said, words));
  }
}

std::string order_words(const BeforeAndThen<ReadOrder>& order, const Words& words) {
  if (!order.before) {
    return words.say("New order at km {}: {}", km_brief(order.then->at_km, words),
                     order.then->text);
  }
  if (!order.then) {
    return words.say("Dropped at km {}: {}", km_brief(order.before->at_km, words),
                     order.before->text);
  }
  if (order.then->at_km == order.before->at_km) {
    return words.say("Other order at km {}: {}", km_brief(order.then->at_km, words),
                     order.then->text);
  }
  return words.say("Order at km {} instead of {}: {}", km_brief(order.then->at_km, words),
                   km_brief(order.before->at_km, words), order.then->text);
}

void add_orders(std::vector<std::string>& lines,
                const std::vector<BeforeAndThen<ReadOrder>>& orders, const Words& words) {
  if (orders.empty()) {
    return;
  }
  if (orders.size() <= orders_shown) {
    for (const auto& order : orders) {
      lines.push_back(order_words(order, words));
    }
    return;
  }
  const auto fresh = std::ranges::count_if(orders, [](const auto& one) { return !one.before; });
  const auto dropped = std::ranges::count_if(orders, [](const auto& one) { return !one.then; });
  lines.push_back(words.say("Orders: {} new, {} dropped, {} other; the first: {}", fresh, dropped,
                            static_cast<std::ptrdiff_t>(orders.size()) - fresh - dropped,
                            uncapitalised(order_words(orders.front(), words), words)));
}

std::string failure_differs(const ChangedFailure& failure, const Words& words) {
  const auto& answer = failure.answer;
  if (!answer.before || !answer.then) {
    return answer.then ? words.say("is new") : words.say("is no longer asked");
  }
  std::vector<std::string> said;
  if (*answer.before != *answer.then) {
    said.push_back(instead_words(words.named(name_of(*answer.then)),
                                 words.named(name_of(*answer.before)), words));
  }
  const auto any = [&](const auto& differs) {
    const auto one = [&](const ChangedStretch<WhatRemains>& stretch) {
      return stretch.how.before && stretch.how.then &&
             differs(*stretch.how.before, *stretch.how.then);
    };
    return std::ranges::any_of(failure.before_departure, one) ||
           std::ranges::any_of(failure.on_the_road, one);
  };
  const auto add_if = [&](std::string what, const auto& differs) {
    if (any(differs)) {
      said.push_back(std::move(what));
    }
  };
  add_if(words.say("another answer on some stretch"),
         [&](const WhatRemains& a, const WhatRemains& b) {
           return *answer.before == *answer.then && a.answer != b.answer;
         });
  add_if(words.say("other pantographs"),
         [](const WhatRemains& a, const WhatRemains& b) { return a.raised != b.raised; });
  add_if(words.say("other vehicles dead in tow"), [](const WhatRemains& a, const WhatRemains& b) {
    return a.put_dead_in_tow != b.put_dead_in_tow;
  });
  add_if(words.say("another speed"),
         [](const WhatRemains& a, const WhatRemains& b) { return a.speed_kmh != b.speed_kmh; });
  add_if(words.say("another reach"), [](const WhatRemains& a, const WhatRemains& b) {
    return a.reaches_km != b.reaches_km || a.stranded != b.stranded;
  });
  return said.empty() ? words.say("on other stretches") : fmt::to_string(fmt::join(said, ", "));
}

/// Pantographs whose failure differs in the same stand together.
void add_failures(std::vector<std::string>& lines, const std::vector<ChangedFailure>& failures,
                  const Words& words) {
  std::vector<std::pair<std::string, std::vector<PantographRef>>> said;
  for (const ChangedFailure& failure : failures) {
    const std::string differs = failure_differs(failure, words);
    auto same = std::ranges::find_if(said, [&](const auto& one) { return one.first == differs; });
    if (same == said.end()) {
      same = said.insert(said.end(), {differs, {}});
    }
    same->second.push_back(failure.failed);
  }
  for (const auto& [differs, failed] : said) {
    lines.push_back(words.say("If {} fails: {}.", either_words(failed, words), differs));
  }
}

std::string time_words(const TrainChange& change, const TrainOutcome& before,
                       const TrainOutcome& then, const Words& words) {
  if (!change.longer_s) {
    return before.running_time_s > 0 ? words.say("No running time any more.")
           : then.running_time_s > 0 ? words.say("Running time {}, none before.",
                                                 duration_words(then.running_time_s, words))
                                     : std::string();
  }
  if (std::abs(*change.longer_s) < least_loss_s) {
    return {};
  }
  const std::string now = duration_words(then.running_time_s, words);
  const std::string was = duration_words(before.running_time_s, words);
  const std::string by = minutes_words(std::abs(*change.longer_s), words);
  return *change.longer_s > 0
             ? words.say("Running time {} instead of {}, {} longer.", now, was, by)
             : words.say("Running time {} instead of {}, {} shorter.", now, was, by);
}

std::string why_no_plan(const TrainOutcome& outcome, std::vector<std::string>& lines,
                        const Words& words) {
  if (outcome.decision == Decision::fault) {
    return words.say("there is none, by a fault of the program: {}", outcome.fault);
  }
  if (outcome.decision == Decision::input_mistake) {
    for (const Diagnostic& mistake : outcome.mistakes) {
      lines.push_back(to_line(mistake));
    }
    return words.say("there is none, its input has mistakes.");
  }
  return outcome.answer;
}

void add_not_compared(std::vector<std::string>& lines, const TrainOutcome& before,
                      const TrainOutcome& then, const Words& words) {
  std::vector<std::string> mistakes;
  std::vector<std::string> as_before;
  lines.push_back(words.say("Its plan today: {}", why_no_plan(before, as_before, words)));
  lines.push_back(words.say("Its plan then: {}", why_no_plan(then, mistakes, words)));
  for (std::string& line : mistakes.empty() ? as_before : mistakes) {
    lines.push_back(std::move(line));
  }
}

}  // namespace

std::string trains_counted(std::size_t number, const Words& words) {
  return words.say_of(number, "{} train", "{} trains", number);
}

std::string counted(std::size_t number, std::string_view what, const Words& words) {
  // By its own pattern: a name that stands for one thing stands unchanged behind any number.
  return words.say("{0} {1}", number, words.named(what));
}

std::string minutes_words(double seconds, const Words& words) {
  constexpr double seconds_a_minute = 60;
  return words.say("{:.1f} min", seconds / seconds_a_minute);
}

std::vector<std::string> difference_lines(const TrainChange& change, const TrainOutcome& before,
                                          const TrainOutcome& then, const Words& words) {
  std::vector<std::string> lines;
  if (change.fate == TrainFate::no_plan) {
    add_not_compared(lines, before, then, words);
    return lines;
  }
  if (before.answer != then.answer) {
    lines.push_back(words.say("{} Before: {}", then.answer, uncapitalised(before.answer, words)));
  }
  add_sayings(lines, {words.say("Forbidden"), words.say("No longer forbidden")}, change.forbidden,
              words);
  add_sayings(lines, {words.say("Consent needed"), words.say("No longer needs consent")},
              change.consents_missing, words);
  add_sayings(lines, {words.say("Last resort"), words.say("No longer a last resort")},
              change.last_resorts, words);
  for (const ConsentName& consent : change.consents_newly_used) {
    lines.push_back(
        words.say("Newly rests on: consent {} of {}.", consent.reference, consent.given_by));
  }
  for (const ConsentName& consent : change.consents_no_longer_used) {
    lines.push_back(
        words.say("No longer rests on: consent {} of {}.", consent.reference, consent.given_by));
  }
  for (std::size_t i = 0; i < std::min(change.stretches.size(), stretches_shown); ++i) {
    lines.push_back(stretch_words(change.stretches[i], words));
  }
  if (change.stretches.size() > stretches_shown) {
    const std::size_t more = change.stretches.size() - stretches_shown;
    lines.push_back(words.say_of(more, "And {} more stretch.", "And {} more stretches.", more));
  }
  add_orders(lines, change.orders, words);
  add_failures(lines, change.failures, words);
  if (std::string said = time_words(change, before, then, words); !said.empty()) {
    lines.push_back(std::move(said));
  }
  return lines;
}

std::string card_parts_words(const TrainChange& change, const Words& words) {
  std::vector<std::string> parts;
  for (const std::string& part : change.card_parts) {
    parts.push_back(words.named(part));
  }
  return fmt::to_string(fmt::join(parts, ", "));
}

std::vector<std::string> change_lines(const TrainChange& change, const TrainOutcome& before,
                                      const TrainOutcome& then, const Words& words) {
  std::vector<std::string> lines = difference_lines(change, before, then, words);
  if (change.fate != TrainFate::no_plan) {
    lines.push_back(change.card_again
                        ? words.say("Its card is to be issued again. Changed on it: {}.",
                                    card_parts_words(change, words))
                        : words.say("Its card holds."));
  }
  return lines;
}

}  // namespace panup
