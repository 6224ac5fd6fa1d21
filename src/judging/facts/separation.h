#pragma once
/// Which electrical zones of the wire a train joins while it passes with pantographs up.
///
/// A separation section is a row of zones along the wire: live, neutral or earthed, then live again
/// with another phase or system. Two neighbouring zones overlap where their wires run side by side,
/// or meet at an insulator. A collector head joins all zones that its contact strips touch; a roof
/// line or a high-voltage line through the train joins all that its pantographs touch. Opening the
/// main circuit breaker opens neither: it stands behind them. So zones that no single head joins
/// may be joined by two heads far apart.
///
/// The train is swept through the section exactly: what is touched changes only where an end of the
/// strips passes an end of a zone, so that looking at these positions and once between any two of
/// them leaves nothing out. Lengths count to the nearest micrometre; a strip that just reaches a
/// zone touches it. The method is derived from the above; docs/separation-sections.md gives it.
///
///     const Sweep swept = sweep(zones, {collectors, joins}, BreakerAt::open);
///     if (!swept.forbidden.empty()) {
///       const std::vector<Remedy> ways = remedies(zones, {collectors, joins});
///     }

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "line/route.h"
#include "stock/train.h"

namespace panup {

/// A raised pantograph, as the wire sees it. Its contact strips touch the wire from
/// `strip_extent_m / 2` ahead of `behind_front_m` to as much behind it.
struct Collector {
  PantographRef ref;
  double behind_front_m = 0;  ///< middle of the collector head behind the front of the train
  double strip_extent_m = 0;  ///< from the first contact strip's edge to the last one's
  std::vector<EnergySupply> fit_for;  ///< systems that both it and its vehicle are for
};

/// A conductor on the train that joins raised pantographs: a roof line, or a high-voltage line
/// between vehicles.
struct HighVoltageJoin {
  std::string name;                     ///< in a sentence: "the roof line of locomotive 1"
  std::vector<std::size_t> collectors;  ///< indices of those it joins
  bool can_be_opened = false;           ///< from the cab
  bool only_possible = false;           ///< nobody has said whether it is there
};

/// What of the train takes part: collectors in any order, and what joins them.
struct RaisedCollectors {
  std::vector<Collector> collectors;
  std::vector<HighVoltageJoin> joins;  ///< those that are only possible come last
};

/// The same without the joins that are only possible. Indices stay what they are.
RaisedCollectors known_of(const RaisedCollectors& raised);

/// How the main circuit breaker stands while the train passes.
enum class BreakerAt : std::uint8_t {
  open,
  closed_where_permitted,  ///< and the section does not ask for it open
  closed_against_rule,     ///< although the section asks for it open
};

/// Why a position is forbidden.
enum class Conflict : std::uint8_t {
  phases_joined,   ///< two live zones of one system and different phases
  systems_joined,  ///< two live zones of different systems
  live_to_earth,   ///< a live and an earthed zone
  wrong_system,    ///< a collector on a live zone of a system it is not fit for
  breaker_closed,  ///< within the section with the breaker closed where it must be open
};

/// "joins two phases", "joins two systems", "joins a live zone with earth", "puts a pantograph on
/// a system that it is not for", "is within the section with the main circuit breaker closed".
std::string_view words_for(Conflict conflict);

/// One link of what joins two zones, from the one to the other.
struct ChainLink {
  enum class What : std::uint8_t { zone, collector, join };
  What what{};
  std::size_t index = 0;
  friend bool operator==(const ChainLink&, const ChainLink&) = default;
};

/// Zones that are joined with each other, and the collectors that are on any of them or joined to
/// one that is. Indices rise.
struct JoinedZones {
  std::vector<std::size_t> zones;
  std::vector<std::size_t> collectors;
  friend bool operator==(const JoinedZones&, const JoinedZones&) = default;
};

/// A range of positions of the front of the train within which nothing changes. At an end that the
/// stage does not include, its neighbour holds.
struct SweptStage {
  double from_m = 0;
  double to_m = 0;
  bool includes_from = true;
  bool includes_to = true;
  std::vector<std::vector<std::size_t>> touched;  ///< by collector: zones, rising
  std::vector<JoinedZones> joined;                ///< those of two zones and more
};

/// Positions of the front of the train, both ends included, at which something forbidden happens.
struct ForbiddenRange {
  Conflict why{};
  double from_m = 0;
  double to_m = 0;
  /// Joins: the two zones. Wrong system: the zone, twice. Breaker: the first and the last zone.
  std::size_t first_zone = 0;
  std::size_t second_zone = 0;
  /// What joins them where it begins, shortest way, both zones included. Wrong system: the
  /// collector and the zone. Breaker: empty.
  std::vector<ChainLink> chain;
};

/// What happens while the train passes. Positions are those of the front of the train on the axis
/// of the zones.
struct Sweep {
  std::vector<SweptStage> stages;         ///< in order; empty where no collector is up
  std::vector<ForbiddenRange> forbidden;  ///< by where they begin

  bool passes() const { return forbidden.empty(); }
};

/// Sweeps the train through `zones`, in the direction in which they are listed. Zones need an end
/// after their beginning (infinite ones are those that begin before, or end behind, all that
/// matters); entries of kind `insulator` join nothing. Cost grows with the square of collectors
/// times zones.
Sweep sweep(std::span<const SeparationZone> zones, const RaisedCollectors& raised,
            BreakerAt breaker);

/// Whether `sweep` would find nothing forbidden; stops at the first that is, and keeps nothing.
bool passes(std::span<const SeparationZone> zones, const RaisedCollectors& raised,
            BreakerAt breaker);

/// The moment that decides, for a drawing.
struct DecidingMoment {
  double front_m = 0;  ///< position of the front of the train
  /// How far every strip could reach out further, ahead and behind, until something forbidden
  /// happens at this position; 0 where it does already.
  double reserve_m = 0;
  ForbiddenRange what;  ///< what happens then
};

/// Where the train comes closest to something forbidden: the beginning of the first forbidden
/// range, or the place where strips longer by the reserve would first do it. The breaker aside.
/// Nothing where no length of strips does harm.
std::optional<DecidingMoment> deciding_moment(std::span<const SeparationZone> zones,
                                              const RaisedCollectors& raised);

}  // namespace panup
