#include "issued/standing.h"

#include <algorithm>
#include <map>
#include <set>

#include "day/change_words.h"

namespace panup {

namespace {

constexpr std::size_t differences_shown = 6;

}  // namespace

std::vector<std::string> differences(const TrainChange& change, const TrainOutcome& before,
                                     const TrainOutcome& now, const Words& words) {
  // What the driver does comes first; what is said of it, after.
  TrainChange of_driver = change;
  of_driver.forbidden.clear();
  of_driver.consents_missing.clear();
  of_driver.last_resorts.clear();
  of_driver.consents_newly_used.clear();
  of_driver.consents_no_longer_used.clear();
  std::vector<std::string> lines = difference_lines(of_driver, before, now, words);
  for (std::string& line : difference_lines(change, before, now, words)) {
    if (std::ranges::find(lines, line) == lines.end()) {
      lines.push_back(std::move(line));
    }
  }
  if (lines.empty()) {
    lines.push_back(change.card_parts.empty()
                        ? words.say("Nothing that is read on it.")
                        : words.say("On it: {}.", card_parts_words(change, words)));
  }
  if (lines.size() > differences_shown) {
    const std::size_t more = lines.size() - differences_shown;
    lines.resize(differences_shown);
    lines.push_back(words.say("And {} more.", more));
  }
  return lines;
}

CardValidity standing_of(const LastIssue& last, const ComparedTrain& now, const std::string& today,
                         const Words& words) {
  CardValidity standing;
  // Of a train that has no plan now, no texts are held against each other.
  standing.in_another_language =
      now.reading != nullptr && last.outcome.language != words.language();
  if (!standing.in_another_language) {
    standing.change = compare_trains({.outcome = &last.outcome, .reading = &last.reading}, now);
  }
  const std::string& until = last.issue.handed_out.holds_until;
  standing.past_last_day = !until.empty() && today > until;
  if (standing.past_last_day) {
    standing.why.push_back(words.say("It held until {}.", until));
  }
  if (standing.in_another_language) {
    standing.why.push_back(words.say(
        "It was issued in the language '{}', and cannot be compared with a plan in another: ask "
        "for it in that language.",
        last.outcome.language));
  }
  if (standing.change.card_again) {
    for (std::string& line : differences(standing.change, last.outcome, *now.outcome, words)) {
      standing.why.push_back(std::move(line));
    }
  }
  standing.holds = standing.why.empty();
  return standing;
}

DayStandings standings_of_day(IssueRegister& issues, const DayFile& day, const PlannedDay& planned,
                              const std::string& today, const Words& words) {
  DayStandings standings;
  const auto all = issues.issues();
  if (const auto* const wrong = std::get_if<std::string>(&all)) {
    standings.wrong = *wrong;
    return standings;
  }
  std::set<std::string> said;
  for (const std::size_t row : departure_order(day)) {
    CardStanding standing{.train_number = day.trains[row].number, .issue = {}};
    said.insert(standing.train_number);
    auto last = issues.last(standing.train_number, day.date);
    if (const auto* const wrong = std::get_if<std::string>(&last)) {
      return {.cards = {}, .wrong = *wrong};
    }
    if (auto& known = std::get<std::optional<LastIssue>>(last)) {
      const auto& reading = planned.readings[row];
      standing.validity = standing_of(
          *known, {.outcome = &*planned.outcomes[row], .reading = reading ? &*reading : nullptr},
          today, words);
      standing.issue = std::move(known->issue);
    }
    standings.cards.push_back(std::move(standing));
  }
  std::map<std::string, Issue> gone;
  for (const Issue& issue : std::get<std::vector<Issue>>(all)) {
    if (issue.day == day.date && !said.contains(issue.train_number)) {
      gone.insert_or_assign(issue.train_number, issue);
    }
  }
  for (const auto& [number, issue] : gone) {
    CardStanding standing{.train_number = number, .issue = issue, .in_the_day = false};
    standing.validity.why = {words.say("The train is no longer in the day.")};
    standings.cards.push_back(std::move(standing));
  }
  return standings;
}

}  // namespace panup
