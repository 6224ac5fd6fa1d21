#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "day/change_words.h"
#include "day/day_table.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"

namespace panup {

namespace {

/// "5 trains: 3 permitted, 1 last resort, 1 consent needed".
std::string counts_words(const DayReport& report) {
  const Words& words = report.words;
  const std::vector<std::size_t> counts = counts_of(report);
  std::size_t all = 0;
  std::string said;
  for (std::size_t i = decisions; i-- > 0;) {
    all += counts[i];
    if (counts[i] > 0) {
      said +=
          (said.empty() ? "" : ", ") + counted(counts[i], name_of(static_cast<Decision>(i)), words);
    }
  }
  return fmt::format("{}: {}", trains_counted(all, words), said);
}

/// Empty where nothing has changed, or is not known.
std::string changed_words(const DayReport& report) {
  const Words& words = report.words;
  std::size_t changed = 0;
  std::size_t cards = 0;
  for (const auto& since : report.since_shown) {
    if (since) {
      ++changed;
      cards += since->change.card_again ? 1U : 0U;
    }
  }
  return changed == 0 ? std::string()
                      : words.say("{} since the answers were last shown; {} to be issued again.",
                                  trains_counted(changed, words),
                                  words.say_of(cards, "{} card", "{} cards", cards));
}

std::string head(const DayReport& report) {
  const Words& words = report.words;
  std::string out;
  if (invented(report)) {
    out += invented_words(words) + "\n\n";
  }
  const DayFile& day = *report.day;
  out +=
      fact_line(words.say("Day"),
                plain(day.name == day.date ? day.date : fmt::format("{}, {}", day.date, day.name)));
  out += fact_line(words.say("Rules"),
                   plain(fmt::to_string(fmt::join(report.rule_books, words.say(", then ")))));
  if (report.speed_from != SpeedFrom::tables) {
    out += fact_line(words.say("Speeds"), speed_from_words(report.speed_from, words));
  }
  out += fact_line(words.say("Answer"), counts_words(report) + ".");
  if (const std::string changed = changed_words(report); !changed.empty()) {
    out += fact_line(words.say("Changed"), changed);
  }
  return out;
}

/// As in the table, where there is little room.
std::string short_name_of(Decision decision, const Words& words) {
  return decision == Decision::none    ? words.say("none permitted")
         : decision == Decision::fault ? words.say("program fault")
                                       : words.named(name_of(decision));
}

std::string table(const DayReport& report, const std::vector<std::size_t>& rows) {
  const Words& words = report.words;
  constexpr std::size_t most_number_columns = 12;
  // The rest at its widest in English, with what stands between, and what a language needs more.
  std::size_t other_columns = 49;
  constexpr std::size_t decision_columns = 14;
  constexpr std::size_t orders_columns = 6;
  std::size_t widest_decision = decision_columns;
  std::size_t number_columns = 5;
  std::size_t hour_columns = 6;
  for (const std::size_t row : rows) {
    const DayTrain& train = report.day->trains[row];
    number_columns = std::max(number_columns, std::min(train.number.size(), most_number_columns));
    hour_columns = std::max(hour_columns, columns_of(departure_words(train)));
    widest_decision =
        std::max(widest_decision, columns_of(short_name_of(report.outcomes[row]->decision, words)));
  }
  const std::string orders_heading = words.say("orders");
  other_columns += widest_decision - decision_columns +
                   std::max(columns_of(orders_heading), orders_columns) - orders_columns;
  constexpr std::size_t least_name_columns = 12;  // where a language's words are long
  const std::size_t taken = other_columns + number_columns + hour_columns;
  const std::size_t name_columns = std::max(text_columns, taken + least_name_columns) - taken;
  std::vector<std::vector<std::string>> cells;
  for (const std::size_t row : rows) {
    const DayTrain& train = report.day->trains[row];
    const TrainOutcome& outcome = *report.outcomes[row];
    cells.push_back(
        {train.departure.empty() ? "–" : departure_words(train),
         shortened(train.number, most_number_columns),
         shortened(plain(train_words(train, outcome)), name_columns),
         short_name_of(outcome.decision, words),
         outcome.slowest ? speed_figure(outcome.slowest->speed_kmh, words) : "–",
         outcome.running_time_s > 0 ? duration_words(outcome.running_time_s, words) : "–",
         outcome.decision > Decision::input_mistake ? std::to_string(outcome.orders) : "–"});
  }
  return "\n" + words.say("TRAINS, what needs a decision first") + "\n" +
         text_table({{.heading = words.say("leaves")},
                     {.heading = words.say("train")},
                     {.heading = words.say("name and route")},
                     {.heading = words.say("decision")},
                     {.heading = words.say("km/h"), .right_aligned = true},
                     {.heading = words.say("runs"), .right_aligned = true},
                     {.heading = orders_heading}},
                    cells, 2, text_columns) +
         "  " + words.say("km/h: the least speed of a section; runs: stops not counted") + "\n";
}

/// Stretches of both, in order; those that overlap or touch are one.
std::vector<KmStretch> united(std::vector<KmStretch> stretches,
                              const std::vector<KmStretch>& more) {
  stretches.insert(stretches.end(), more.begin(), more.end());
  std::ranges::sort(stretches, {}, &KmStretch::from_km);
  std::vector<KmStretch> all;
  for (const KmStretch& stretch : stretches) {
    if (!all.empty() && stretch.from_km <= all.back().to_km) {
      all.back().to_km = std::max(all.back().to_km, stretch.to_km);
    } else {
      all.push_back(stretch);
    }
  }
  return all;
}

/// What rules say, a rule once: where, and in its first words there. At most two rules, and how
/// many more.
void add_said(std::vector<std::string>& lines, const std::string& what,
              const std::vector<SaidWhere>& all, const Words& words) {
  constexpr std::size_t shown = 2;
  std::vector<SaidWhere> by_rule;
  for (const SaidWhere& said : all) {
    const auto same = std::ranges::find(by_rule, said.rule, &SaidWhere::rule);
    if (same == by_rule.end()) {
      by_rule.push_back(said);
      continue;
    }
    same->where = united(same->where, said.where);
  }
  for (std::size_t i = 0; i < by_rule.size() && i < shown; ++i) {
    lines.push_back(words.say("{} on {} (rule {}): {}", what, km_list(by_rule[i].where, words),
                              by_rule[i].rule, by_rule[i].text));
  }
  if (by_rule.size() > shown) {
    const std::size_t more = by_rule.size() - shown;
    lines.push_back(words.say_of(more, "And by {} more rule: see its plan.",
                                 "And by {} more rules: see its plan.", more));
  }
}

std::vector<std::string> reasons(const TrainOutcome& outcome, const Words& words) {
  std::vector<std::string> lines;
  if (outcome.decision == Decision::fault) {
    lines.push_back(words.say("There is no plan, by a fault of the program: {}", outcome.fault));
    return lines;
  }
  if (outcome.decision == Decision::input_mistake) {
    for (const Diagnostic& mistake : outcome.mistakes) {
      lines.push_back(to_line(mistake));
    }
    return lines;
  }
  lines.push_back(outcome.answer);
  add_said(lines, words.say("Forbidden"), outcome.forbidden, words);
  add_said(lines, words.say("Consent needed"), outcome.consents_missing, words);
  if (!outcome.without_consent.empty()) {
    lines.push_back(words.say("Without it: {}", outcome.without_consent));
  }
  add_said(lines, words.say("Last resort"), outcome.last_resorts, words);
  for (const ConsentName& consent : outcome.consents_not_counting) {
    lines.push_back(words.say("Consent {} of {} does not count: {}.", consent.reference,
                              consent.given_by, consent.because));
  }
  for (const DefectName& defect : outcome.defects) {
    lines.push_back(words.say(
        "Pantograph {} of {} stays down as defective{}.", defect.pantograph, defect.vehicle,
        defect.reference.empty() ? std::string() : " (" + defect.reference + ")"));
  }
  return lines;
}

/// "60412, Petrol to Port Selmo, harl-port-selmo, leaves 05:40".
std::string heading_of(const DayTrain& train, const TrainOutcome& outcome, const Words& words) {
  const std::string named = fmt::format("{}, {}", train.number, train_words(train, outcome));
  return fmt::format(
      "\n  {}\n",
      plain(train.departure.empty() ? named
                                    : words.say("{}, leaves {}", named, departure_words(train))));
}

std::string to_decide(const DayReport& report, const std::vector<std::size_t>& rows) {
  const Words& words = report.words;
  std::string out;
  for (const std::size_t row : rows) {
    const TrainOutcome& outcome = *report.outcomes[row];
    if (outcome.decision == Decision::permitted) {
      continue;
    }
    out += heading_of(report.day->trains[row], outcome, words);
    for (const std::string& line : reasons(outcome, words)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out.empty() ? "\n" + words.say("Nothing is to be decided.") + "\n"
                     : "\n" + words.say("TO DECIDE") + "\n" + out;
}

std::string changed_since(const DayReport& report, const std::vector<std::size_t>& rows) {
  const Words& words = report.words;
  std::string out;
  for (const std::size_t row : rows) {
    if (report.since_shown.empty() || !report.since_shown[row]) {
      continue;
    }
    const ChangeSinceShown& since = *report.since_shown[row];
    out += heading_of(report.day->trains[row], *report.outcomes[row], words);
    for (const std::string& line :
         change_lines(since.change, since.before, *report.outcomes[row], words)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out.empty() ? out
                     : "\n" + words.say("CHANGED SINCE THE ANSWERS WERE LAST SHOWN") + "\n" + out;
}

}  // namespace

std::string departure_words(const DayTrain& train) {
  return train.departure.ends_with(":00") ? train.departure.substr(0, 5) : train.departure;
}

std::string train_words(const DayTrain& train, const TrainOutcome& outcome) {
  return outcome.train_name.empty() ? (train.run.path.empty() ? train.train.path : train.run.path)
                                    : fmt::format("{}, {}", outcome.train_name, outcome.route_id);
}

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
  const Words& words = report.words;
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
    const std::string vehicles = fmt::to_string(fmt::join(nowhere, ", "));
    notes.push_back(
        all_known ? words.say("Vehicles that the registers of defects name and no train of the day "
                              "has: {}.",
                              vehicles)
                  : words.say("Vehicles that the registers of defects name and no planned train of "
                              "the day has: {}.",
                              vehicles));
  }
  notes.push_back(words.say(
      "Each train is planned by itself: whether trains meet, or a vehicle runs in two at once, is "
      "not looked at. What was not checked of a train stands in the notes of its plan."));
  return notes;
}

std::string day_to_text(const DayReport& report) {
  const std::vector<std::size_t> rows = desk_order(*report.day, report.outcomes);
  return head(report) + table(report, rows) + to_decide(report, rows) +
         changed_since(report, rows) + text_list(report.words.say("NOTES"), day_notes(report)) +
         text_list(report.words.say("CAUTIONS"), cautions("table", report.words)) +
         made_from(report.inputs, report.program_version, report.words);
}

}  // namespace panup
