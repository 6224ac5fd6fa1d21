#include "issued/hand_out.h"

#include <fmt/format.h>

#include "base/validity.h"
#include "card/card.h"
#include "drawing/json_text.h"
#include "issued/standing.h"
#include "render/run_json.h"

namespace panup {

namespace {

std::string date_of(const std::string& time) { return time.substr(0, time.find('T')); }

/// Why a train gets no card; empty where it does.
std::string why_refused(const TrainOutcome& outcome) {
  switch (outcome.decision) {
    case Decision::fault:
      return "There is no plan, by a fault of the program: " + outcome.fault;
    case Decision::input_mistake:
      return "There is no plan: its input has mistakes.";
    case Decision::none:
    case Decision::consent_needed:
      return outcome.answer;
    case Decision::last_resort:
    case Decision::permitted:
      break;
  }
  return {};
}

std::string card_pdf(const RunPlan& run) {
  const Release& release = run.parts.front().train.release;
  CardBook book(fmt::format("Card of {}, {}, issue {}", release.train_number, release.date,
                            release.issue.value_or(1)));
  for (const Plan& part : run.parts) {
    book.add(part);
  }
  return book.finish();
}

void state_release(Release& release, const HandedOut& handed_out, const LastIssue* last, int number,
                   const std::vector<std::string>& different) {
  release.issue = number;
  const auto state = [](std::string& of_train, const std::string& given) {
    of_train = given.empty() ? of_train : given;
  };
  state(release.made_by, handed_out.made_by);
  state(release.checked_by, handed_out.checked_by);
  state(release.released_by, handed_out.released_by);
  state(release.holds_until, handed_out.holds_until);
  if (last != nullptr) {
    release.replaces = ReplacedIssue{.issue = last->issue.number,
                                     .issued_on = date_of(last->issue.handed_out.at),
                                     .different = different};
  }
}

/// Why a card is not issued as it is asked for; empty where it is.
std::string why_not_as_seen(const AskedCard& asked, const TrainOutcome& outcome,
                            const TrainReading& reading, const std::optional<LastIssue>& last,
                            const HowToIssue& how) {
  if (asked.inputs_sha256 != outcome.inputs_sha256) {
    return "Its files have changed since it was looked at: look at the day again.";
  }
  const int number = last ? last->issue.number : 0;
  if (asked.replaces != number) {
    return number == 0
               ? fmt::format("It has no issue {} to be replaced: none was issued.", asked.replaces)
               : fmt::format("Its issue {} was handed to {} meanwhile: look at it first.", number,
                             last->issue.handed_out.to);
  }
  if (last && !how.also_holding &&
      standing_of(*last, {.outcome = &outcome, .reading = &reading}, date_of(how.handed_out.at))
          .holds) {
    return fmt::format("Its issue {} still holds.", number);
  }
  return {};
}

}  // namespace

std::string_view name_of(CardFate fate) {
  switch (fate) {
    case CardFate::issued:
      return "issued";
    case CardFate::still_holds:
      return "still holds";
    case CardFate::refused:
      break;
  }
  return "not issued";
}

RunPlan with_release(const RunPlan& run, const HandedOut& handed_out, const LastIssue* last,
                     int number, const std::vector<std::string>& different) {
  RunPlan released = run;
  for (Plan& part : released.parts) {
    state_release(part.train.release, handed_out, last, number, different);
  }
  return released;
}

HandedOutDay hand_out(IssueRegister& issues, const DayToIssue& planned,
                      const std::vector<std::size_t>& rows, const HowToIssue& how) {
  HandedOutDay handed;
  for (const std::size_t row : rows) {
    CardOfTrain card{.row = row, .fate = CardFate::issued, .issue = {}, .why = {}};
    const TrainOutcome& outcome = *planned.outcomes[row];
    const auto& reading = planned.readings[row];
    const std::string& number = planned.day.trains[row].number;
    card.why = why_refused(outcome);
    if (!card.why.empty() || !reading || planned.plans[row] == nullptr) {
      auto last = issues.last(number, planned.day.date);
      if (const auto* const wrong = std::get_if<std::string>(&last)) {
        handed.wrong = *wrong;
        return handed;
      }
      card.fate = CardFate::refused;
      if (auto& known = std::get<std::optional<LastIssue>>(last)) {
        card.issue = std::move(known->issue);
      }
      handed.cards.push_back(std::move(card));
      continue;
    }
    const RunPlan& run = *planned.plans[row];
    std::optional<Issue> holding;
    const auto write = [&](const LastIssue* last, int issue) -> std::optional<NewIssue> {
      std::vector<std::string> different;
      if (last != nullptr) {
        const CardValidity standing = standing_of(
            *last, {.outcome = &outcome, .reading = &*reading}, date_of(how.handed_out.at));
        if (standing.holds && !how.also_holding) {
          holding = last->issue;
          return std::nullopt;
        }
        different = standing.why.empty() ? differences(standing.change, last->outcome, outcome)
                                         : standing.why;
      }
      const RunPlan released = with_release(run, how.handed_out, last, issue, different);
      const Release& release = released.parts.front().train.release;
      return NewIssue{.handed_out = {.at = how.handed_out.at,
                                     .to = how.handed_out.to,
                                     .made_by = release.made_by,
                                     .checked_by = release.checked_by,
                                     .released_by = release.released_by,
                                     .holds_until = release.holds_until},
                      .different = std::move(different),
                      .inputs = inputs_of(run),
                      .program_version = run.parts.front().program_version,
                      .plan = {.outcome = outcome,
                               .reading = *reading,
                               .plan_json = json_text(train_plan_to_json(released)),
                               .card_pdf = card_pdf(released)}};
    };
    auto added = issues.add(number, planned.day.date, write);
    if (auto* const wrong = std::get_if<std::string>(&added)) {
      handed.wrong = std::move(*wrong);
      return handed;
    }
    auto& issue = std::get<std::optional<Issue>>(added);
    card.fate = issue ? CardFate::issued : CardFate::still_holds;
    card.issue = issue ? std::move(issue) : std::move(holding);
    handed.cards.push_back(std::move(card));
  }
  return handed;
}

HandedOutDay hand_out_together(IssueRegister& issues, const DayToIssue& planned,
                               const std::vector<AskedCard>& asked, const HowToIssue& how) {
  HandedOutDay handed;
  const std::string wrong = issues.together([&] {
    std::vector<std::size_t> rows;
    for (const AskedCard& one : asked) {
      const TrainOutcome& outcome = *planned.outcomes[one.row];
      const auto& reading = planned.readings[one.row];
      const auto last = issues.last(planned.day.trains[one.row].number, planned.day.date);
      if (const auto* const why = std::get_if<std::string>(&last)) {
        handed.wrong = *why;
        return false;
      }
      const auto& known = std::get<std::optional<LastIssue>>(last);
      std::string why = why_refused(outcome);
      if (why.empty() && (!reading || planned.plans[one.row] == nullptr)) {
        why = "There is no plan.";
      } else if (why.empty()) {
        why = why_not_as_seen(one, outcome, *reading, known, how);
      }
      if (!why.empty()) {
        handed.cards.push_back({.row = one.row,
                                .fate = CardFate::refused,
                                .issue = known ? std::optional(known->issue) : std::nullopt,
                                .why = std::move(why)});
      }
      rows.push_back(one.row);
    }
    if (!handed.cards.empty()) {
      return false;
    }
    handed = hand_out(issues, planned, rows, how);
    return handed.wrong.empty();
  });
  if (!wrong.empty()) {
    handed.wrong = wrong;
  }
  if (!handed.wrong.empty()) {
    handed.cards.clear();  // whatever was begun: nothing of it stays
  }
  return handed;
}

std::string wrong_with_last_day(const std::string& holds_until, const std::string& day) {
  if (holds_until.empty()) {
    return {};
  }
  if (!is_day(holds_until)) {
    return fmt::format("'{}' is not a day as YYYY-MM-DD", holds_until);
  }
  return holds_until < day ? fmt::format("{} is before the day of the trains, {}", holds_until, day)
                           : std::string();
}

}  // namespace panup
