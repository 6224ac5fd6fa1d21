#pragma once
/// The room `line`: what the train runs under. The route with its sections, separation sections,
/// stretches to be passed with pantographs down, stops and marks; and the day's conditions.

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/energy_supply.h"
#include "base/provenance.h"
#include "base/words.h"
#include "stock/pantograph.h"

namespace panup {

/// Design type of a contact line by the spacing of pantographs it is built for
/// (Regulation (EU) No 1301/2014, table 4.2.13).
enum class DesignType : std::uint8_t { a, b, c };

/// "A", "B", "C".
std::string_view name_of(DesignType type);

/// A class of outside temperatures for which a line is built (register, parameter 1.1.1.1.2.6).
enum class TemperatureRange : std::uint8_t { t1, t2, t3, tx };
/// "T1", "T2", "T3", "Tx".
std::string_view name_of(TemperatureRange range);
struct Temperatures {
  double least_c = 0;
  double greatest_c = 0;
};
/// −25 to 40, −40 to 35, −25 to 45, −40 to 50 °C.
Temperatures temperatures_of(TemperatureRange range);

/// The infrastructure register's record: so many raised, at least so far apart, at this speed.
struct RaisedRecord {
  int number = 1;
  double distance_m = 0;  ///< 0 where number is 1
  double speed_kmh = 0;
  friend auto operator<=>(const RaisedRecord&, const RaisedRecord&) = default;
};

/// The mean contact force that a line permits of each pantograph, by speed: F = a v² + b, as the
/// register may state it (parameter 1.1.1.2.5.2; form of EN 50367, from memory). A number alone is
/// a force that none may ever exceed: a is 0.
struct ContactForceLimit {
  double square_n_per_kmh2 = 0;  ///< a, with v in km/h
  double constant_n = 0;         ///< b
  double at(double speed_kmh) const {
    return square_n_per_kmh2 * speed_kmh * speed_kmh + constant_n;
  }
  friend auto operator<=>(const ContactForceLimit&, const ContactForceLimit&) = default;
};

/// A kind of span of the contact line: where its contact wire lies between two supports, seen from
/// above.
struct SpanType {
  double length_m = 0;
  /// At the two supports, from the middle of the track: positive towards the outside of a curve; on
  /// straight track towards either side, the same for both.
  std::array<double, 2> stagger_m{};
  std::optional<double> curve_radius_m;  ///< none: straight
  std::optional<int> number;             ///< how many such spans there are; may not be known
  friend auto operator<=>(const SpanType&, const SpanType&) = default;
};

/// A wire of the contact line as the wind sees it.
struct LineWire {
  double diameter_mm = 0;
  double tension_n = 0;  ///< the least of the day
  friend auto operator<=>(const LineWire&, const LineWire&) = default;
};

/// What holds on a section of the line, wherever it lies and whatever it is called. It is all that
/// rules can read of a section, so that two sections alike in it are judged alike where the same
/// rules are asked. What is not stated is not permitted.
struct LineProperties {
  double line_speed_kmh = 0;
  std::optional<EnergySupply> supply;
  /// By type; a section that states types permits no other, of whatever width.
  std::optional<std::vector<HeadType>> permitted_heads = {};
  std::optional<std::vector<double>> permitted_head_widths_mm;
  std::optional<std::vector<StripMaterial>> permitted_strip_materials;
  std::optional<double> greatest_metallic_content_percent = {};  ///< of strips
  std::optional<double> greatest_static_force_n = {};            ///< of each pantograph
  std::optional<ContactForceLimit> greatest_contact_force = {};  ///< likewise
  std::optional<bool> automatic_dropping_device_required;        ///< not stated: taken as required
  std::optional<bool> current_limitation_required = {};          ///< on board
  /// The name of a document that restricts where the traction units of a train may stand to one
  /// another for its separation sections; empty: none is stated.
  std::string separation_document = {};
  std::vector<RaisedRecord> records;  ///< go before the design type
  std::optional<DesignType> design_type;
  std::string contact_line;  ///< name of its contact line type; may be empty
  std::optional<TemperatureRange> temperature_range = {};
  std::optional<double> greatest_train_current_a;
  std::optional<double> greatest_standstill_current_a;  ///< per pantograph
  std::optional<double> wire_height_min_m;
  std::optional<double> wire_height_max_m;
  std::vector<SpanType> spans = {};  ///< all kinds there are; empty: not known
  std::vector<LineWire> wires = {};  ///< contact and messenger wires; not empty where spans are not
  /// The day, where conditions for a network say something of this section alone; else what they
  /// say of the whole day holds.
  std::optional<double> wind_ms = {};
  std::optional<double> temperature_c = {};
  friend auto operator<=>(const LineProperties&, const LineProperties&) = default;
};

/// A stretch of route with one set of properties.
struct Section : LineProperties {
  std::string id;
  std::string name;
  std::string line = {};  ///< number or name of the line it belongs to; empty: not stated
  double from_km = 0;
  double to_km = 0;
  /// Of a way through a network: the kilometres of its line at its ends, falling where the way runs
  /// against them. None where the chainage of the route is that of the line.
  std::optional<double> line_from_km = {};
  std::optional<double> line_to_km = {};
  std::vector<SourcePlace> record_places = {};  ///< one for each of `records`
  Provenance provenance = {};
  SourcePlace place;
};

enum class SeparationKind : std::uint8_t { phase, system };
/// "phase separation section", "system separation section".
std::string_view name_of(SeparationKind kind);

/// How the register's length of a separation section is meant.
enum class LengthMeaning : std::uint8_t {
  not_stated,
  minimum_between_inner,
  maximum_between_outer
};

enum class ZoneKind : std::uint8_t {
  live,
  neutral,
  earthed,
  insulator,  ///< joins nothing: the length between two zones that do not overlap
};
/// "live", "neutral", "earthed", "insulator".
std::string_view name_of(ZoneKind kind);

/// An electrical zone of the wire within a separation section. Positions count from the section's
/// `from_km` in the direction of travel. Neighbours that both reach over a stretch overlap there: a
/// collector head touches both.
struct SeparationZone {
  ZoneKind kind{};
  double from_m = 0;                   ///< minus infinity: of the first zone
  double to_m = 0;                     ///< infinity: of the last zone
  std::string phase;                   ///< live: which; empty where the section separates systems
  std::optional<EnergySupply> supply;  ///< live: which; none where the section separates phases
  SourcePlace place;
};

/// "phase R", "DC 3 kV", "the neutral zone", "the earthed zone".
std::string name_of(const SeparationZone& zone, const Words& words = {});

struct SeparationSection {
  std::string name;
  SeparationKind kind{};
  double from_km = 0;
  double length_m = 0;
  bool pantograph_lowered = false;
  bool breaker_off = true;
  LengthMeaning length_meaning = LengthMeaning::not_stated;
  std::vector<SeparationZone> zones =
      {};  ///< in order, the first and last live; may be empty: unknown
  Provenance provenance = {};
  SourcePlace place;
};

/// Between which chainages a contact strip may touch something else than the live wire on either
/// side, by the section's length and zones, whichever reaches farther.
struct SeparationExtent {
  double from_km = 0;
  double to_km = 0;
};
SeparationExtent extent_of(const SeparationSection& separation);

/// A stretch to be passed with all pantographs down for another reason than a separation section.
struct LoweredStretch {
  std::string name;
  double from_km = 0;
  double to_km = 0;
  SourcePlace place;
};

/// A short stretch with a lower contact wire than the rest of its section: a tunnel, a bridge.
struct LowPlace {
  std::string name;
  double from_km = 0;
  double to_km = 0;
  double wire_height_min_m = 0;
  Provenance provenance = {};
  SourcePlace place;
};

struct Stop {
  std::string name;
  double at_km = 0;
  bool reversal = false;  ///< the train leaves in the other direction
  SourcePlace place;
};

/// What a board of the line tells the driver to do.
enum class Board : std::uint8_t { breaker_off, lower, raise, breaker_on };
/// "breaker off", "lower", "raise", "breaker on".
std::string_view name_of(Board board);
std::optional<Board> board_named(std::string_view name);
/// No board stands farther from what it is for.
inline constexpr double farthest_board_km = 10;

/// A fixed thing the driver can see: a signal, a board, a tunnel mouth. Where `change_on_the_move`
/// is set, pantographs may be changed there on the move.
struct Landmark {
  std::string name;
  double at_km = 0;
  bool change_on_the_move = false;
  bool signal = false;              ///< the train may have to stop at it
  std::optional<Board> board = {};  ///< the line's own, for a stretch passed without power
  std::string board_of = {};        ///< the name of that separation section or lowered stretch
  SourcePlace place;
};

/// A stretch of one gradient; what no stretch covers is unknown.
struct Gradient {
  double from_km = 0;
  double to_km = 0;
  double permille = 0;  ///< positive uphill in the direction of travel
  SourcePlace place;
};

/// A section insulator or an overlap of wires outside separation sections: a pantograph may pass,
/// but none may stand in it.
struct SectionInsulator {
  std::string name;
  double at_km = 0;     ///< its middle
  double length_m = 0;  ///< as much of it before the middle as behind
  SourcePlace place;
};

/// A route by chainage. Chainage runs on in the direction of travel from departure to arrival, also
/// through a reversal; after a reversal the new front of the train stands at the stop's chainage.
struct Route {
  std::string id;
  std::string name;
  bool invented = false;                       ///< demo data; shown wherever the route is shown
  std::string contact_line_folder;             ///< path of its contact line types; may be empty
  std::vector<Section> sections;               ///< in order, without gaps or overlaps
  std::vector<SeparationSection> separations;  ///< in order; none overlaps another
  std::vector<LoweredStretch> lowered;         ///< in order
  std::vector<LowPlace> low_places = {};       ///< in order; may overlap
  std::vector<Stop> stops;                     ///< in order
  std::vector<Landmark> landmarks;             ///< in order
  std::vector<Gradient> gradients = {};        ///< in order; none overlaps another
  std::vector<SectionInsulator> section_insulators = {};  ///< in order
  /// Where the front of the train stands at departure; none: where the route begins. What lies
  /// before it is over the rest of the train, and behind it; reversals up to there have happened.
  std::optional<double> departs_km = {};
  /// The place where it ends, if the train goes on from there with other vehicles; else empty.
  std::string ends_at = {};
  SourcePlace place;
};

/// "Orrendal", "the end of the route".
std::string end_words(const Route& route, const Words& words = {});

/// The chainage of the front of the train at departure.
double departure_km(const Route& route);

/// A stretch by the kilometres of a line, falling where the train runs against them.
struct LineStretch {
  std::string line;  ///< number or name
  double from_km = 0;
  double to_km = 0;
  friend bool operator==(const LineStretch&, const LineStretch&) = default;
};

/// Which kilometres of which lines a stretch of route is, in order; empty where the route goes by
/// the kilometres of its line.
std::vector<LineStretch> stretches_on_lines(const Route& route, double from_km, double to_km);

/// "line 1 km 24.6–0.0 and line 3 km 0.0–12.4".
std::string line_words(const std::vector<LineStretch>& stretches, const Words& words = {});

/// A place by the kilometres of a line.
struct LinePlace {
  std::string line;
  double at_km = 0;
};

/// What the post beside the track reads where the route has a chainage, as near as it is known;
/// nothing where the route goes by the kilometres of its line. Where two lines meet it is the one
/// that the train comes by.
std::optional<LinePlace> place_on_line(const Route& route, double km);

/// A piece of route with ice on the contact wire.
struct IceStretch {
  double from_km = 0;
  double to_km = 0;
};

/// A piece of route whose weather is not that of the rest.
struct LocalWeather {
  double from_km = 0;
  double to_km = 0;
  std::optional<double> temperature_c;
  std::optional<double> wind_ms;
};

/// Puts stretches in order; those that overlap or touch become one.
void merge(std::vector<IceStretch>& ice);

/// The day.
struct Conditions {
  std::string name;
  bool invented = false;
  std::vector<IceStretch> ice;
  std::optional<double> temperature_c;
  std::optional<double> wind_ms;
  std::vector<LocalWeather> local = {};  ///< in order, apart; the sections there have it too
  std::vector<std::string> notes = {};   ///< what does not hold at the time of the train
  SourcePlace place;
};

}  // namespace panup
