#pragma once
/// The room `day`: all trains of one day, planned side by side. An operator's desk has forty to a
/// thousand of them and wants to see at once which need a decision: whose input is wrong, for which
/// there is no permitted configuration, for which a consent is missing, which run on a last resort.
/// `plan_day` makes each train's plan, as it would be made alone, and takes from it what the desk
/// looks at (`TrainOutcome`); one bad train stops no other. `desk_order` sorts by what needs a
/// decision, `day_table.h` shows it, and `kept_answers.h` keeps the answers, so that a train of
/// which nothing has changed is not planned again.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/handed_out.h"
#include "files/read_day.h"
#include "plan/plan.h"
#include "plan/run_plan.h"
#include "wording/wording.h"

namespace panup {

/// What the desk has to do about a train, the most urgent first.
enum class Decision : std::uint8_t {
  fault,          ///< a fault of the program: there is no plan
  input_mistake,  ///< its input has mistakes: there is no plan
  none,           ///< no permitted configuration
  consent_needed,
  last_resort,  ///< permitted, with a last resort accepted
  permitted,
};
/// "fault of the program", "input mistakes", "no permitted configuration", "consent needed", "last
/// resort", "permitted".
std::string_view name_of(Decision decision);
inline constexpr std::size_t decisions = 6;

/// What a rule says, and where.
struct SaidWhere {
  std::string rule;
  std::string text;
  std::vector<KmStretch> where;
  friend bool operator==(const SaidWhere&, const SaidWhere&) = default;
};

/// The slowest stretch of a plan.
struct SlowestStretch {
  double speed_kmh = 0;
  KmStretch where;
  std::string reason;  ///< with line and kilometres, where the route does not go by those
  friend bool operator==(const SlowestStretch&, const SlowestStretch&) = default;
};

/// A consent as the desk knows it.
struct ConsentName {
  std::string reference;
  std::string given_by;
  std::string because = {};  ///< where it does not count: why
  friend bool operator==(const ConsentName&, const ConsentName&) = default;
};

/// A pantograph that stays down by an entry of a register.
struct DefectName {
  std::string vehicle;
  int pantograph = 0;
  std::string reference;  ///< may be empty
  std::string still_possible;
  friend bool operator==(const DefectName&, const DefectName&) = default;
};

/// What came out for one train. Where there is no plan, only `mistakes` or `fault` is filled.
struct TrainOutcome {
  std::string language = "en";  ///< its texts are said in it, as BCP 47 writes it
  Decision decision = Decision::permitted;
  Diagnostics mistakes = {};
  std::string fault = {};
  std::string train_id = {};
  std::string train_name = {};
  std::string route_id = {};
  std::string route_name = {};
  bool invented = false;
  /// Their numbers, front first; then of those that come to the train on its way.
  std::vector<std::string> vehicles = {};
  std::string answer = {};                     ///< of the plan, in a sentence; of parts, one each
  std::optional<SlowestStretch> slowest = {};  ///< nothing where it may not run
  std::vector<SaidWhere> forbidden = {};  ///< on the sections without a permitted configuration
  std::vector<SaidWhere> consents_missing = {};
  std::vector<SaidWhere> last_resorts = {};
  std::string without_consent = {};                     ///< the best that needs none; may be empty
  std::vector<ConsentName> consents_used = {};          ///< that a finding of the plan rests on
  std::vector<ConsentName> consents_not_counting = {};  ///< for this train, but not on this day
  std::vector<DefectName> defects = {};
  double running_time_s = 0;
  std::size_t orders = 0;
  std::string inputs_sha256 = {};  ///< over what was asked and the bytes of every input
};

/// What the desk looks at, taken from a plan.
TrainOutcome outcome_of(const Plan& plan);

/// The same, taken from the plans of all parts of a train's way: the worst answer, the least speed,
/// and of the rest what any part says.
TrainOutcome outcome_of(const RunPlan& run);

/// Rows of the day in the order of the desk: by decision, then departure (not stated: last), then
/// number. `outcomes` are in the order of the day's trains; rows that have none are left out.
std::vector<std::size_t> desk_order(const DayFile& day,
                                    const std::vector<std::optional<TrainOutcome>>& outcomes);

/// Rows by departure (not stated: last), in the order of the file where they depart together.
std::vector<std::size_t> departure_order(const DayFile& day);

}  // namespace panup
