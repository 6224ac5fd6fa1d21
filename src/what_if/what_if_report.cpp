#include "what_if/what_if_report.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace panup {

bool invented(const WhatIfReport& report) {
  const auto of_train = [](const auto& outcome) { return outcome && outcome->invented; };
  return report.day->invented || report.what_if->invented ||
         std::ranges::any_of(report.planned.before, of_train) ||
         std::ranges::any_of(report.planned.then, of_train);
}

std::vector<std::size_t> counts_of(const WhatIfReport& report) {
  std::vector<std::size_t> counts(train_fates, 0);
  for (const TrainChange& change : report.planned.changes) {
    ++counts[static_cast<std::size_t>(change.fate)];
  }
  return counts;
}

TimeLost time_lost(const WhatIfReport& report) {
  TimeLost lost;
  for (std::size_t row = 0; row < report.planned.changes.size(); ++row) {
    const auto& longer_s = report.planned.changes[row].longer_s;
    if (longer_s) {
      lost.longer_s += std::max(0.0, *longer_s);
      lost.shorter_s += std::max(0.0, -*longer_s);
      if (*longer_s > 0) {
        ++lost.trains_longer;
      }
    } else if (report.planned.before[row]->running_time_s > 0 ||
               report.planned.then[row]->running_time_s > 0) {
      ++lost.trains_without;
    }
  }
  return lost;
}

std::vector<std::size_t> desk_order(const WhatIfReport& report) {
  std::vector<std::size_t> rows(report.planned.changes.size());
  std::iota(rows.begin(), rows.end(), std::size_t{0});
  std::ranges::stable_sort(rows, {}, [&](std::size_t row) {
    const DayTrain& train = report.day->trains[row];
    return std::tuple(
        report.planned.changes[row].fate,
        train.departure.empty() ? std::string_view("~") : std::string_view(train.departure),
        std::string_view(train.number));
  });
  return rows;
}

std::vector<std::string> what_if_notes(const WhatIfReport& report) {
  const Words& words = report.words;
  std::vector<std::string> notes = report.planned.notes;
  if (const std::size_t without = time_lost(report).trains_without; without > 0) {
    notes.push_back(words.say_of(
        without,
        "{} train has no running time before or then, and is not in the sum of what is lost.",
        "{} trains have no running time before or then, and are not in the sum of what is lost.",
        without));
  }
  notes.push_back(words.say(
      "Both days are planned from departure on, over the whole route. Where a train is by now is "
      "not known here: for one that has left, look only at what lies ahead of it."));
  notes.push_back(words.say(
      "Each train is planned by itself: whether trains meet, or a vehicle runs in two at once, is "
      "not looked at. Stops are not counted in running times."));
  return notes;
}

bool any_change(const WhatIfReport& report) {
  return std::ranges::any_of(report.planned.changes, [](const TrainChange& change) {
    return change.fate == TrainFate::no_plan ? change.card_again : change.changes();
  });
}

}  // namespace panup
