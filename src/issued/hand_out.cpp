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
std::string why_refused(const TrainOutcome& outcome, const Words& words) {
  switch (outcome.decision) {
    case Decision::fault:
      return words.say("There is no plan, by a fault of the program: {}", outcome.fault);
    case Decision::input_mistake:
      return words.say("There is no plan: its input has mistakes.");
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
  const Words& words = run.parts.front().words;
  CardBook book(words.say("Card of {}, {}, issue {}", release.train_number, release.date,
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

std::string overtaken_words(const Issue& last, const Words& words) {
  return words.say("Its issue {} was handed to {} meanwhile: look at it first.", last.number,
                   last.handed_out.to);
}

/// Why a card is not issued as it is asked for; empty where it is.
std::string why_not_as_seen(const AskedCard& asked, const TrainOutcome& outcome,
                            const TrainReading& reading, const std::optional<LastIssue>& last,
                            const HowToIssue& how, const Words& words) {
  if (asked.inputs_sha256 != outcome.inputs_sha256) {
    return words.say("Its files have changed since it was looked at: look at the day again.");
  }
  const int number = last ? last->issue.number : 0;
  if (asked.replaces != number) {
    return number == 0
               ? words.say("It has no issue {} to be replaced: none was issued.", asked.replaces)
               : overtaken_words(last->issue, words);
  }
  if (last && !how.also_holding &&
      standing_of(*last, {.outcome = &outcome, .reading = &reading}, date_of(how.handed_out.at),
                  words)
          .holds) {
    return words.say("Its issue {} still holds.", number);
  }
  return {};
}

/// Why a row of the day gets no card; empty where it does.
std::string why_refused(const DayToIssue& planned, std::size_t row) {
  std::string why = why_refused(*planned.outcomes[row], planned.words);
  if (why.empty() && (!planned.readings[row] || planned.plans[row] == nullptr)) {
    why = planned.words.say("There is no plan.");
  }
  return why;
}

std::optional<Issue> issue_of(const std::optional<LastIssue>& last) {
  return last ? std::optional(last->issue) : std::nullopt;
}

/// In what the card differs from the last one; nothing where that holds and none is issued anew.
std::optional<std::vector<std::string>> different_from(const LastIssue& last,
                                                       const DayToIssue& planned, std::size_t row,
                                                       const HowToIssue& how) {
  const TrainOutcome& outcome = *planned.outcomes[row];
  const Words& words = planned.words;
  CardValidity standing =
      standing_of(last, {.outcome = &outcome, .reading = &*planned.readings[row]},
                  date_of(how.handed_out.at), words);
  if (standing.holds && !how.also_holding) {
    return std::nullopt;
  }
  if (standing.in_another_language) {
    return std::vector<std::string>{
        words.say("The language; the last card was in '{}'. What else is different was not looked "
                  "at.",
                  last.outcome.language)};
  }
  return standing.why.empty() ? differences(standing.change, last.outcome, outcome, words)
                              : std::move(standing.why);
}

/// The card of a row; ready to be issued where it is to be.
std::optional<ReadyIssue> make_card(const DayToIssue& planned, std::size_t row,
                                    const std::optional<LastIssue>& last, const HowToIssue& how,
                                    CardOfTrain& card) {
  card = {.row = row, .fate = CardFate::issued, .issue = {}, .why = why_refused(planned, row)};
  if (!card.why.empty()) {
    card.fate = CardFate::refused;
    card.issue = issue_of(last);
    return std::nullopt;
  }
  std::vector<std::string> different;
  if (last) {
    auto found = different_from(*last, planned, row, how);
    if (!found) {
      card.fate = CardFate::still_holds;
      card.issue = issue_of(last);
      return std::nullopt;
    }
    different = std::move(*found);
  }
  const RunPlan& run = *planned.plans[row];
  const LastIssue* const before = last ? &*last : nullptr;
  const RunPlan released =
      with_release(run, how.handed_out, before, last ? last->issue.number + 1 : 1, different);
  const Release& release = released.parts.front().train.release;
  return ready_issue(planned.day.trains[row].number, planned.day.date, before,
                     {.handed_out = {.at = how.handed_out.at,
                                     .to = how.handed_out.to,
                                     .made_by = release.made_by,
                                     .checked_by = release.checked_by,
                                     .released_by = release.released_by,
                                     .holds_until = release.holds_until},
                      .different = std::move(different),
                      .inputs = inputs_of(run),
                      .program_version = run.parts.front().program_version,
                      .plan = {.outcome = *planned.outcomes[row],
                               .reading = *planned.readings[row],
                               .plan_json = json_text(train_plan_to_json(released)),
                               .card_pdf = card_pdf(released)}});
}

/// Makes anew the cards that others were issued before. What is wrong, or empty.
std::string make_anew(IssueRegister& issues, const DayToIssue& planned, const HowToIssue& how,
                      const std::vector<std::size_t>& overtaken, MadeCards& made) {
  for (const std::size_t i : overtaken) {
    CardOfTrain& card = made.cards[made.of_ready[i]];
    LastIssues known = last_issues(issues, planned.day, {card.row});
    if (!known.wrong.empty()) {
      return known.wrong;
    }
    auto ready = make_card(planned, card.row, known.last.front(), how, card);
    made.ready[i] = ready ? std::move(*ready) : ReadyIssue{};
  }
  std::vector<ReadyIssue> ready;
  std::vector<std::size_t> of_ready;
  for (std::size_t i = 0; i < made.ready.size(); ++i) {
    if (made.cards[made.of_ready[i]].fate == CardFate::issued) {
      ready.push_back(std::move(made.ready[i]));
      of_ready.push_back(made.of_ready[i]);
    }
  }
  made.ready = std::move(ready);
  made.of_ready = std::move(of_ready);
  return {};
}

/// Puts what is kept of the cards to them.
std::vector<CardOfTrain> with_issues(MadeCards made, std::vector<Issue> issues) {
  for (std::size_t i = 0; i < issues.size(); ++i) {
    made.cards[made.of_ready[i]].issue = std::move(issues[i]);
  }
  return std::move(made.cards);
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

LastIssues last_issues(IssueRegister& issues, const DayFile& day,
                       const std::vector<std::size_t>& rows) {
  LastIssues known;
  for (const std::size_t row : rows) {
    auto last = issues.last(day.trains[row].number, day.date);
    if (const auto* const wrong = std::get_if<std::string>(&last)) {
      return {.last = {}, .wrong = *wrong};
    }
    known.last.push_back(std::move(std::get<std::optional<LastIssue>>(last)));
  }
  return known;
}

MadeCards make_cards(const DayToIssue& planned, const std::vector<std::size_t>& rows,
                     const std::vector<std::optional<LastIssue>>& last, const HowToIssue& how) {
  MadeCards made;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (auto ready = make_card(planned, rows[i], last[i], how, made.cards.emplace_back())) {
      made.ready.push_back(std::move(*ready));
      made.of_ready.push_back(i);
    }
  }
  return made;
}

HandedOutDay hand_out(IssueRegister& issues, const DayToIssue& planned,
                      const std::vector<std::size_t>& rows, const HowToIssue& how) {
  LastIssues known = last_issues(issues, planned.day, rows);
  if (!known.wrong.empty()) {
    return {.cards = {}, .wrong = std::move(known.wrong)};
  }
  return issue_made(issues, planned, how, make_cards(planned, rows, known.last, how));
}

HandedOutDay issue_made(IssueRegister& issues, const DayToIssue& planned, const HowToIssue& how,
                        MadeCards made) {
  constexpr int most_rounds = 20;
  for (int round = 0; round < most_rounds; ++round) {
    auto done = issues.add(made.ready);
    if (auto* const wrong = std::get_if<std::string>(&done)) {
      return {.cards = {}, .wrong = std::move(*wrong)};
    }
    auto& added = std::get<AddedIssues>(done);
    if (added.overtaken.empty()) {
      return {.cards = with_issues(std::move(made), std::move(added.issues)), .wrong = {}};
    }
    if (std::string wrong = make_anew(issues, planned, how, added.overtaken, made);
        !wrong.empty()) {
      return {.cards = {}, .wrong = std::move(wrong)};
    }
  }
  return {.cards = {},
          .wrong =
              "somebody else issues cards of the same trains again and again: nothing is "
              "issued; try again"};
}

std::vector<CardOfTrain> refused_as_seen(const DayToIssue& planned,
                                         const std::vector<AskedCard>& asked,
                                         const std::vector<std::optional<LastIssue>>& last,
                                         const HowToIssue& how) {
  std::vector<CardOfTrain> refused;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const std::size_t row = asked[i].row;
    std::string why = why_refused(planned, row);
    if (why.empty()) {
      why = why_not_as_seen(asked[i], *planned.outcomes[row], *planned.readings[row], last[i], how,
                            planned.words);
    }
    if (!why.empty()) {
      refused.push_back({.row = row,
                         .fate = CardFate::refused,
                         .issue = issue_of(last[i]),
                         .why = std::move(why)});
    }
  }
  return refused;
}

HandedOutDay issue_as_seen(IssueRegister& issues, const DayToIssue& planned, MadeCards made) {
  auto done = issues.add(made.ready);
  if (auto* const wrong = std::get_if<std::string>(&done)) {
    return {.cards = {}, .wrong = std::move(*wrong)};
  }
  auto& added = std::get<AddedIssues>(done);
  if (added.overtaken.empty()) {
    return {.cards = with_issues(std::move(made), std::move(added.issues)), .wrong = {}};
  }
  HandedOutDay refused;
  for (const std::size_t i : added.overtaken) {
    const std::size_t row = made.cards[made.of_ready[i]].row;
    LastIssues known = last_issues(issues, planned.day, {row});
    if (!known.wrong.empty()) {
      return {.cards = {}, .wrong = std::move(known.wrong)};
    }
    // Whoever came before has left an issue, and issues stay.
    const Issue& last = known.last.front()->issue;
    refused.cards.push_back({.row = row,
                             .fate = CardFate::refused,
                             .issue = last,
                             .why = overtaken_words(last, planned.words)});
  }
  return refused;
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
