#pragma once
/// The room `plan`: which pantographs are up where, and what the driver does. It takes a train, a
/// route, the day and a rule book, and makes a plan of them: `make_plan.cpp` tells how, step by
/// step. It judges what may be up on each piece of route (`planning_case.h`), finds the best way
/// through (`ladder.h`, `way.h`), places the driver's orders along it (`orders.h`), says why
/// (`planned_sections.h`, `explain.h`), and does the same for every pantograph that may fail
/// (`contingencies.h`). A plan is a plain value: once made, everything shown is drawn from it, and
/// nothing is computed while drawing.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/handed_out.h"
#include "base/words.h"
#include "judging/current_rule.h"
#include "judging/exposed_load.h"
#include "judging/lateral_rule.h"
#include "judging/separation_moment.h"
#include "line/route.h"
#include "quality/criteria.h"
#include "rules/finding.h"
#include "stock/train.h"

namespace panup {

/// What the plan answers on a section.
enum class Answer : std::uint8_t {
  permitted,       ///< the configuration may be used
  consent_needed,  ///< only with a consent of the infrastructure manager that nobody has named
  none,            ///< no permitted configuration
};
/// "permitted", "consent needed", "no permitted configuration".
std::string_view name_of(Answer answer);

/// Where the speed of a configuration comes from.
enum class SpeedFrom : std::uint8_t {
  tables,     ///< records, consents, design types
  mechanics,  ///< the mechanics in their place, where it has an answer
  both,       ///< the lower of the two
};
/// "tables", "mechanics", "both".
std::string_view name_of(SpeedFrom from);
std::optional<SpeedFrom> speed_from_named(std::string_view name);

/// A stretch of route with one configuration and one speed.
struct PlannedSection {
  double from_km = 0;
  double to_km = 0;
  std::size_t section = 0;  ///< index into `Plan::route.sections`; the one it begins in
  std::optional<EnergySupply> supply;
  bool iced = false;
  bool reversed = false;    ///< the train runs against its direction at departure
  std::string lowered_for;  ///< where pantographs are down: the name of what asks for it
  Answer answer = Answer::permitted;
  std::vector<PantographRef> raised;  ///< front first; empty where none is up
  std::vector<int> put_dead_in_tow;   ///< numbers of working vehicles with no pantograph up
  double speed_kmh = 0;               ///< as ordered there; 0 where the answer is `none`
  std::string speed_rule;             ///< id of the rule that decides the speed
  std::string speed_reason;           ///< one clause, e.g. "line speed"
  /// What the rules permit for what is up there. More than what is ordered where the rest of the
  /// train, a change of pantographs or a stretch with pantographs down asks for less.
  double permitted_speed_kmh = 0;
  /// Where consent is needed: the best that needs none, in words; empty if there is none.
  std::string without_consent = {};
  std::optional<double> least_distance_m;  ///< between adjacent raised ones; none below two
  std::vector<Finding> findings;           ///< the strongest first
  std::vector<ExposedLoad> exposed = {};   ///< loads that this configuration leaves unprotected
};

enum class Action : std::uint8_t {
  raise,
  lower,
  breaker_off,
  breaker_on,
  speed,
  power,       ///< how much may be drawn
  stop_short,  ///< where to stop before a place, if the train stops there
  tow,
  reverse,
  shunt,  ///< vehicles come to the train or leave it, or change in it, at a stand
};
/// "raise", "lower", "breaker off", "breaker on", "speed", "power", "stop short", "dead in tow",
/// "reverse", "shunt".
std::string_view name_of(Action action);

/// One action of the driver.
struct Instruction {
  double at_km = 0;  ///< of the front of the train
  Action action{};
  int vehicle = 0;            ///< the one vehicle concerned; 0 where it is several or the train
  std::vector<int> vehicles;  ///< breakers, `power` and `tow`: whose, rising; power: empty for all
  std::vector<PantographRef> pantographs;
  double speed_kmh = 0;              ///< action `speed` only
  std::optional<int> power_percent;  ///< action `power`: of full power; 100: no limit any more
  std::optional<double> current_a;   ///< action `power`: while the train stands
  std::string what;                  ///< "Raise 1.1 and 2.1"
  /// Where it is by the kilometres of a line, where the route does not go by them.
  std::optional<LinePlace> on_line = {};
  std::string landmark;         ///< "at Aldmoor", "600 m before Grenzhalt"; may be empty
  std::string reason;           ///< one clause; may be empty
  std::string text;             ///< the whole instruction in one line
  std::string if_not_possible;  ///< may be empty
};

/// What becomes of the train when a pantograph fails on the road in a stretch of the plan.
struct RoadFailure {
  double from_km = 0;
  double to_km = 0;
  Answer answer = Answer::permitted;
  std::vector<PantographRef> raised;  ///< what goes up instead, there; front first
  std::vector<int> put_dead_in_tow;
  double speed_kmh = 0;
  double reaches_km = 0;             ///< how far the train can go on by itself
  bool stranded = false;             ///< it cannot go on without help from where it is
  std::string without_consent = {};  ///< as in `PlannedSection`
  std::string text;
  std::vector<ExposedLoad> exposed = {};  ///< as in `PlannedSection`
};

struct Contingency {
  PantographRef failed;
  Answer answer = Answer::permitted;     ///< the worst of its sections
  std::vector<PlannedSection> sections;  ///< the plan when it has failed from the start
  std::vector<Instruction> instructions;
  double running_time_s = 0;
  bool changes_the_plan = false;  ///< raised, put dead or permitted speed differ from the plan
  std::vector<RoadFailure> on_the_road;  ///< one for each stretch in which it is raised
};

/// The speed that records, consents or the design type alone give a configuration.
struct SpacingLimit {
  double speed_kmh = 0;
  std::string rule;  ///< id of the rule that says so
  friend bool operator==(const SpacingLimit&, const SpacingLimit&) = default;
};

/// Contact forces of the raised pantographs by the mechanics, where it has an answer.
struct ForceFigures {
  double speed_kmh = 0;  ///< of the run: the fastest that passes, of those up to what is planned
  std::vector<PantographRef> raised;           ///< front first
  std::vector<PantographFigures> pantographs;  ///< in their order
  std::optional<double> greatest_force_n;      ///< limit of the statistical maximum
  std::vector<JudgedSpeed> judged = {};        ///< all speeds that were looked at, rising
  std::string hangs_on = {};                   ///< what the speed hangs on, in words; may be empty
  std::optional<SpacingLimit> by_tables = {};  ///< nothing: they say nothing of it
  friend bool operator==(const ForceFigures&, const ForceFigures&) = default;
};

/// How near a section of the plan with pantographs up comes to the limits it was checked against.
/// Drawings are made from it.
struct SectionMargins {
  std::size_t planned = 0;  ///< index into `Plan::sections`
  CurrentLoads currents;
  std::vector<LateralMargin> lateral;  ///< empty: not known
  std::optional<ForceFigures> forces;  ///< nothing: not computed
};

struct Plan {
  Train train;
  Route route;
  Conditions conditions;
  std::vector<InputFile> inputs;
  std::vector<std::string> rule_books;  ///< names, in order
  SpeedFrom speed_from = SpeedFrom::tables;
  std::vector<Override> overrides;
  Answer answer = Answer::permitted;  ///< the worst of the sections
  std::vector<PlannedSection> sections;
  std::vector<Instruction> instructions;
  /// For each separation section of stated zones that is passed with pantographs up, one for each
  /// configuration it is passed in, in order.
  std::vector<SeparationMoment> separation_moments;
  std::vector<SectionMargins> margins;     ///< of every section with pantographs up, in order
  double running_time_s = 0;               ///< without time at stops
  std::vector<Contingency> contingencies;  ///< one for each pantograph that could be raised
  std::vector<std::string> notes;          ///< what was not checked, what is invented
  std::vector<std::string> cautions;       ///< belong on everything handed out
  std::string program_version;
  Words words = {};  ///< in which all of it is said
};

}  // namespace panup
