#pragma once

#include <cstdint>
#include <limits>

namespace panup {

struct Rule;

/// What the rules say of one configuration on one piece of route, as numbers: each counts what a
/// step of the ladder looks at. The ladder itself, which orders them, stands in `plan/ladder.h`.
struct Verdict {
  bool forbidden = false;
  bool consent_needed = false;          ///< and nobody has named it
  bool above_record = false;            ///< the speed needs consent; at `record_speed_kmh` it runs
  std::uint16_t put_dead = 0;           ///< working vehicles with nothing up
  bool leading_put_dead = false;        ///< the foremost working vehicle is among them
  std::int64_t missing_current_a = 0;   ///< of what full power asks for, over all vehicles
  double power_share = 1;               ///< of full traction power, that may be drawn
  std::uint16_t facing_pairs = 0;       ///< accepted as a last resort
  std::uint16_t leading_short = 0;      ///< needs for two contact points unmet, leading vehicle
  std::uint16_t banking_short = 0;      ///< the same, on the first of those that bank
  std::uint16_t following_short = 0;    ///< the same, on those that follow
  std::uint16_t exposed_dangerous = 0;  ///< loads
  std::uint16_t exposed_sensitive = 0;  ///< loads
  std::uint16_t departures = 0;         ///< pantographs up or down against the prescribed pattern
  std::uint16_t dirty_windscreens = 0;
  std::uint16_t raised = 0;
  double speed_kmh = std::numeric_limits<double>::infinity();
  const Rule* speed_rule = nullptr;  ///< the one that decides the speed
  /// By record, consent or design type; what they say also where it does not limit the speed.
  double spacing_speed_kmh = std::numeric_limits<double>::infinity();
  const Rule* spacing_rule = nullptr;  ///< the one that said so
  /// What the infrastructure manager has said of number and distance: in a record of the line, or
  /// a consent. Computed evidence does not lift it.
  double record_speed_kmh = std::numeric_limits<double>::infinity();
  const Rule* record_rule = nullptr;                                 ///< the one that keeps to it
  double other_speed_kmh = std::numeric_limits<double>::infinity();  ///< by all other rules
  double least_distance_m = 0;  ///< between adjacent raised ones of different vehicles; 0: none
  double distance_sum_m = 0;    ///< over those pairs
};

/// Whether it runs as judged only with a consent that nobody has named.
constexpr bool needs_consent(const Verdict& verdict) {
  return verdict.consent_needed || verdict.above_record;
}

/// How fast it runs without one; only for what needs none but for its speed.
constexpr double runnable_speed_kmh(const Verdict& verdict) {
  return verdict.above_record ? verdict.record_speed_kmh : verdict.speed_kmh;
}

}  // namespace panup
