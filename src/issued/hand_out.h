#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "issued/issue_register.h"
#include "plan/run_plan.h"

namespace panup {

/// What has come of a train's card.
enum class CardFate : std::uint8_t {
  issued,
  still_holds,  ///< the one issued last; none is issued anew
  refused,      ///< there is no plan that may be handed out
};
/// "issued", "still holds", "not issued".
std::string_view name_of(CardFate fate);

struct CardOfTrain {
  std::size_t row = 0;  ///< of the day
  CardFate fate = CardFate::issued;
  std::optional<Issue> issue;  ///< issued now, or the last one
  std::string why;             ///< refused: why
};

/// A day that was planned, with all its plans.
struct DayToIssue {
  const DayFile& day;
  const std::vector<std::optional<TrainOutcome>>& outcomes;
  const std::vector<std::optional<TrainReading>>& readings;
  const std::vector<std::shared_ptr<const RunPlan>>& plans;  ///< null: has none
};

/// How its cards are to be issued.
struct HowToIssue {
  HandedOut handed_out;
  bool also_holding = false;  ///< also where the last card still holds
};

/// Issues the cards of these rows of the day, one after the other; what is issued stays so where
/// something goes wrong with a later one. What went wrong, in words.
struct HandedOutDay {
  std::vector<CardOfTrain> cards;  ///< in the order of `rows`, as far as it went
  std::string wrong;
};
HandedOutDay hand_out(IssueRegister& issues, const DayToIssue& planned,
                      const std::vector<std::size_t>& rows, const HowToIssue& how);

/// The plan with what is stated on the card that is issued of it, on the sheets of each part.
RunPlan with_release(const RunPlan& run, const HandedOut& handed_out, const LastIssue* last,
                     int number, const std::vector<std::string>& different);

}  // namespace panup
