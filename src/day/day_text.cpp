#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "day/day_table.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"

namespace panup {

namespace {

/// "5 trains: 3 permitted, 1 last resort, 1 consent needed".
std::string counts_words(const DayReport& report) {
  const std::vector<std::size_t> counts = counts_of(report);
  std::size_t all = 0;
  std::string words;
  for (std::size_t i = decisions; i-- > 0;) {
    all += counts[i];
    if (counts[i] > 0) {
      words += fmt::format("{}{} {}", words.empty() ? "" : ", ", counts[i],
                           name_of(static_cast<Decision>(i)));
    }
  }
  return fmt::format("{} train{}: {}", all, all == 1 ? "" : "s", words);
}

std::string head(const DayReport& report) {
  std::string out;
  if (invented(report)) {
    out += std::string(invented_mark) + "\n\n";
  }
  const DayFile& day = *report.day;
  out += hanging("Day      ",
                 plain(day.name == day.date ? day.date : fmt::format("{}, {}", day.date, day.name)),
                 text_columns);
  out += hanging("Rules    ", plain(fmt::format("{}", fmt::join(report.rule_books, ", then "))),
                 text_columns);
  if (report.speed_from != SpeedFrom::tables) {
    out += hanging("Speeds   ", speed_from_words(report.speed_from), text_columns);
  }
  out += hanging("Answer   ", counts_words(report) + ".", text_columns);
  return out;
}

std::string hour_words(const std::string& departure) {
  return departure.empty() ? "–" : departure.ends_with(":00") ? departure.substr(0, 5) : departure;
}

/// "Petrol to Port Selmo, harl-port-selmo"; where nothing was read, the file.
std::string train_words(const DayTrain& train, const TrainOutcome& outcome) {
  return outcome.train_name.empty() ? train.train.path
                                    : fmt::format("{}, {}", outcome.train_name, outcome.route_id);
}

std::string table(const DayReport& report, const std::vector<std::size_t>& rows) {
  constexpr std::size_t number_characters = 12;
  constexpr std::size_t name_characters = 34;
  std::vector<std::vector<std::string>> cells;
  for (const std::size_t row : rows) {
    const DayTrain& train = report.day->trains[row];
    const TrainOutcome& outcome = *report.outcomes[row];
    cells.push_back(
        {hour_words(train.departure), shortened(train.number, number_characters),
         shortened(plain(train_words(train, outcome)), name_characters),
         std::string(name_of(outcome.decision)),
         outcome.slowest ? speed_figure(outcome.slowest->speed_kmh) : "–",
         outcome.running_time_s > 0 ? duration_words(outcome.running_time_s) : "–",
         outcome.decision > Decision::input_mistake ? std::to_string(outcome.orders) : "–"});
  }
  return "\nTRAINS, what needs a decision first\n" +
         text_table({{.heading = "leaves"},
                     {.heading = "train"},
                     {.heading = "name and route"},
                     {.heading = "decision"},
                     {.heading = "km/h", .right_aligned = true},
                     {.heading = "runs", .right_aligned = true},
                     {.heading = "orders"}},
                    cells, 2, text_columns) +
         "  km/h: the least speed of a section; runs: stops not counted\n";
}

/// Whole sentences, at most two of what is said, and how much more there is.
void add_said(std::vector<std::string>& lines, std::string_view what,
              const std::vector<SaidWhere>& all) {
  constexpr std::size_t shown = 2;
  for (std::size_t i = 0; i < all.size() && i < shown; ++i) {
    lines.push_back(
        fmt::format("{} {}: {} (rule {})", what, km_list(all[i].where), all[i].text, all[i].rule));
  }
  if (all.size() > shown) {
    lines.push_back(fmt::format("And {} more of that sort: see its plan.", all.size() - shown));
  }
}

std::vector<std::string> reasons(const TrainOutcome& outcome) {
  std::vector<std::string> lines;
  if (outcome.decision == Decision::fault) {
    lines.push_back("There is no plan, by a fault of the program: " + outcome.fault);
    return lines;
  }
  if (outcome.decision == Decision::input_mistake) {
    for (const Diagnostic& mistake : outcome.mistakes) {
      lines.push_back(to_line(mistake));
    }
    return lines;
  }
  lines.push_back(outcome.answer);
  add_said(lines, "Forbidden on", outcome.forbidden);
  add_said(lines, "Consent needed on", outcome.consents_missing);
  if (!outcome.without_consent.empty()) {
    lines.push_back("Without it: " + outcome.without_consent);
  }
  add_said(lines, "Last resort on", outcome.last_resorts);
  for (const ConsentName& consent : outcome.consents_not_counting) {
    lines.push_back(fmt::format("Consent {} of {} does not count: {}.", consent.reference,
                                consent.given_by, consent.because));
  }
  for (const DefectName& defect : outcome.defects) {
    lines.push_back(fmt::format("Pantograph {} of {} stays down as defective{}.", defect.pantograph,
                                defect.vehicle,
                                defect.reference.empty() ? "" : " (" + defect.reference + ")"));
  }
  return lines;
}

std::string to_decide(const DayReport& report, const std::vector<std::size_t>& rows) {
  std::string out;
  for (const std::size_t row : rows) {
    const TrainOutcome& outcome = *report.outcomes[row];
    if (outcome.decision == Decision::permitted) {
      continue;
    }
    const DayTrain& train = report.day->trains[row];
    out += fmt::format("\n  {}, {}{}\n", train.number, plain(train_words(train, outcome)),
                       train.departure.empty() ? "" : ", leaves " + hour_words(train.departure));
    for (const std::string& line : reasons(outcome)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out.empty() ? "\nNothing is to be decided.\n" : "\nTO DECIDE\n" + out;
}

}  // namespace

bool invented(const DayReport& report) {
  return report.day->invented || std::ranges::any_of(report.outcomes, [](const auto& outcome) {
           return outcome && outcome->invented;
         });
}

std::vector<std::size_t> counts_of(const DayReport& report) {
  std::vector<std::size_t> counts(decisions, 0);
  for (const auto& outcome : report.outcomes) {
    if (outcome) {
      ++counts[static_cast<std::size_t>(outcome->decision)];
    }
  }
  return counts;
}

std::vector<std::string> day_notes(const DayReport& report) {
  std::vector<std::string> notes;
  std::set<std::string> running;
  bool all_known = true;
  for (const auto& outcome : report.outcomes) {
    if (outcome && outcome->decision > Decision::input_mistake) {
      running.insert(outcome->vehicles.begin(), outcome->vehicles.end());
    } else {
      all_known = false;
    }
  }
  std::set<std::string> nowhere;
  for (const std::string& vehicle : report.registered_vehicles) {
    if (!running.contains(vehicle)) {
      nowhere.insert(vehicle);
    }
  }
  if (!nowhere.empty()) {
    notes.push_back(
        fmt::format("Vehicles that the registers of defects name and no {}train of the "
                    "day has: {}.",
                    all_known ? "" : "planned ", fmt::join(nowhere, ", ")));
  }
  notes.emplace_back(
      "Each train is planned by itself: whether trains meet, or a vehicle runs in two at once, is "
      "not "
      "looked at. What was not checked of a train stands in the notes of its plan.");
  return notes;
}

std::string day_to_text(const DayReport& report) {
  const std::vector<std::size_t> rows = desk_order(*report.day, report.outcomes);
  return head(report) + table(report, rows) + to_decide(report, rows) +
         text_list("NOTES", day_notes(report)) + text_list("CAUTIONS", cautions("table")) +
         made_from(report.inputs, report.program_version);
}

}  // namespace panup
