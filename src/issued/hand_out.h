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

/// A card that is asked for as somebody saw its train.
struct AskedCard {
  std::size_t row = 0;        ///< of the day
  int replaces = 0;           ///< number of the last issue that was seen; 0: none was
  std::string inputs_sha256;  ///< as of the outcome that was seen
};

/// As `hand_out`, but all of them in one transaction, or none. Refused is beside what `hand_out`
/// refuses a train of which something else was seen than there is now, and one whose last card
/// still holds, unless that is asked for. Where any is refused, those are the cards given back.
HandedOutDay hand_out_together(IssueRegister& issues, const DayToIssue& planned,
                               const std::vector<AskedCard>& asked, const HowToIssue& how);

/// What is wrong with the last day on which cards are to hold, for trains that run on `day`; empty
/// where nothing is, or none is stated.
std::string wrong_with_last_day(const std::string& holds_until, const std::string& day);

/// The plan with what is stated on the card that is issued of it, on the sheets of each part.
RunPlan with_release(const RunPlan& run, const HandedOut& handed_out, const LastIssue* last,
                     int number, const std::vector<std::string>& different);

}  // namespace panup
