#pragma once
/// The room `rules`: what practice, standards and operators say, as data. A rule book is a list of
/// entries; each has a kind, which says what it is about and which numbers it takes, a strength and
/// a source. What the kinds do to a configuration stands in the room `judging`. Nothing here knows
/// of trains, files or screens.

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/energy_supply.h"
#include "base/validity.h"
#include "base/words.h"
#include "rules/only_for.h"

namespace panup {

/// What a rule does to a configuration. In files: "forbidden", "consent needed", "last resort",
/// "prescribed", "speed limit", "note".
enum class Strength : std::uint8_t {
  forbidden,       ///< rules the configuration out
  consent_needed,  ///< neither yes nor no: consent of the infrastructure manager, or evidence
  last_resort,     ///< to be avoided: accepted only where nothing else is left, and said so
  prescribed,      ///< what practice wants; a departure from it is said
  speed_limit,     ///< limits the speed
  note,            ///< said, decides nothing
};
std::string_view name_of(Strength strength);
std::optional<Strength> strength_named(std::string_view name);

/// Where a rule comes from. In files: "practice", "derived", "published", "operator".
enum class Standing : std::uint8_t {
  practice,       ///< a fact of the trade, no published source
  derived,        ///< follows from practice by reasoning; for an operator to confirm or change
  published,      ///< a standard, regulation or register
  operator_rule,  ///< an operator's own
};
std::string_view name_of(Standing standing);
std::optional<Standing> standing_named(std::string_view name);

/// The kinds of rule the program knows. What each means stands in `rules/rule_kinds.cpp`, beside
/// the parameters it takes.
enum class RuleKind : std::uint8_t {
  pantograph_supply,
  pantograph_head,
  contact_strip,
  automatic_dropping_device,
  wire_height,
  defective_pantograph,
  operators_order,
  dead_in_tow,
  put_dead_in_tow,
  current_per_pantograph,
  train_current,
  raised_record,
  design_spacing,
  facing_pair,
  contact_points,
  ice_pantographs,
  ice_speed,
  single_contact_speed,
  load_protection,
  prescribed_position,
  greatest_distance,
  clean_windscreen,
  fewest_raised,
  line_speed,
  vehicle_speed,
  pantograph_speed,
  change_at_stop,
  change_while_lowered,
  change_on_the_move,
  leave_on_the_move,
  driver_times,
  mean_contact_force,
  force_deviation,
  statistical_maximum,
  statistical_minimum,
  contact_loss,
  support_uplift,
  wave_speed_share,
  speed_by_mechanics,
  tolerances,
  zones_joined,
  separation_length,
  separation_unknown,
  current_demand,
  standstill_current,
  strip_wear,
  lateral_position,
  coasting,
  standing_place,
  line_boards,
  propelling,
  runnable_first,
  speed_restriction,
  head_by_width,
  permitted_static_force,
  current_limitation,
  separation_document,
  permitted_contact_force,
  temperature_range,
};

/// One row of a table of least distances between adjacent raised pantographs.
struct SpacingRow {
  /// Greatest running speed of the row; infinite for the last one.
  double up_to_kmh = std::numeric_limits<double>::infinity();
  std::array<double, 3> ac_m{};        ///< design types A, B, C
  std::array<double, 3> dc_3kv_m{};    ///< design types A, B, C
  std::array<double, 3> dc_1500v_m{};  ///< design types A, B, C
};

/// The distances of a row on a system, for design types A, B and C.
const std::array<double, 3>& spacing_of(const SpacingRow& row, EnergySupply supply);

/// What a later book has changed of an entry, and where that comes from.
struct ChangedPart {
  std::string key;  ///< a parameter, "strength", "statement" or "on"
  std::string source;
};

/// One entry of a rule book.
struct Rule {
  std::string id;
  RuleKind kind{};
  std::string statement;
  std::string reason;
  std::string source;                ///< as it is cited: `cited_source`
  std::string first_source;          ///< of what no later book has changed
  std::vector<ChangedPart> changed;  ///< the rest, in the order in which it was changed
  Standing standing{};               ///< of what no later book has changed
  Strength strength{};
  bool on = true;
  bool invented = false;                               ///< its numbers are invented for the demo
  std::map<std::string, double, std::less<>> numbers;  ///< keys carry units, as in the file
  std::map<std::string, std::string, std::less<>> words;
  std::map<std::string, std::vector<std::string>> lists;
  std::vector<SpacingRow> spacing;  ///< kind design_spacing only; by rising speed
  OnlyFor only_for = {};            ///< what it is limited to; empty: it holds everywhere
  std::string book;                 ///< name of the book it stands in
  SourcePlace place;
};

/// A later book has replaced, or changed parts of, an entry of an earlier one.
struct Override {
  std::string id;
  std::string earlier_book;
  std::string later_book;
  std::vector<std::string> what;  ///< keys that the later book states, e.g. "speed_kmh", "on"
};

/// An entry that was released for some days only.
struct ReleasedEntry {
  std::string id;
  std::string book;
  std::string reference;  ///< under which it was released; may be empty
  Validity valid;         ///< limited
  bool counts = false;    ///< on the day that the book was read for; else nothing of it is in force
  SourcePlace place;
};

struct RuleBook {
  Words words = {};                ///< in which what it says of a train is said
  std::vector<std::string> names;  ///< of the books it is made of, in order
  std::vector<Rule> rules;         ///< in the order of first mention
  std::vector<Override> overrides;
  std::vector<ReleasedEntry> released;  ///< in order; also those that do not count
};

/// What is cited for a rule, so that nothing is laid at the door of a source that does not say it:
/// "Regulation X, table 1; speed_kmh: rules of operator Y".
std::string cited_source(const Rule& rule);

/// The rule book in another language: its words, and the texts of its rules where the language has
/// them. What an operator has written stays as it is written.
RuleBook said_in(RuleBook book, const Words& words);

/// Null if there is no such entry.
const Rule* find_rule(const RuleBook& book, std::string_view id);

/// The rule of a kind that is in force; null if there is none. Where several are, the first. Not
/// for kinds whose rules may be limited: which of those hold is for judging to say, ground by
/// ground.
const Rule* rule_in_force(const RuleBook& rules, RuleKind kind);

/// A numeric parameter of a rule; nothing if not stated.
std::optional<double> number_of(const Rule& rule, std::string_view key);

/// The type a parameter of a rule has.
enum class ParameterType : std::uint8_t { number, word, words, spacing_table };

/// A parameter that a kind of rule takes.
struct ParameterSpec {
  std::string_view key;
  ParameterType type{};
  bool required = false;  ///< must be stated where the rule is first defined
  double least = 0;       ///< numbers: permitted range
  double greatest = 0;
  std::string_view words;  ///< words: the permitted ones, separated by '|'
  std::string_view meaning;
};

/// A kind of rule, as it appears in a book.
struct RuleKindSpec {
  RuleKind kind{};
  std::string_view name;   ///< in files, e.g. "facing-pair"
  bool always_on = false;  ///< a rule of this kind cannot be turned off
  std::span<const ParameterSpec> parameters;
  std::string_view meaning;
  /// Its rules may hold for some sections, lines, classes or loads only (`Rule::only_for`): such as
  /// are judged for a configuration on a section and asked nowhere else.
  bool may_be_limited = false;
};

/// All kinds, in the order of the enumeration.
std::span<const RuleKindSpec> rule_kinds();
const RuleKindSpec& spec_of(RuleKind kind);
const RuleKindSpec* rule_kind_named(std::string_view name);

}  // namespace panup
