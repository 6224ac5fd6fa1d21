#include <algorithm>
#include <array>

#include "rules/rule_book.h"

namespace panup {

namespace {

using enum RuleKind;

constexpr ParameterSpec number(std::string_view key, double least, double greatest,
                               std::string_view meaning) {
  return {.key = key,
          .type = ParameterType::number,
          .required = false,
          .least = least,
          .greatest = greatest,
          .words = {},
          .meaning = meaning};
}

constexpr ParameterSpec required_number(std::string_view key, double least, double greatest,
                                        std::string_view meaning) {
  ParameterSpec spec = number(key, least, greatest, meaning);
  spec.required = true;
  return spec;
}

constexpr ParameterSpec word(std::string_view key, std::string_view words,
                             std::string_view meaning) {
  return {.key = key,
          .type = ParameterType::word,
          .required = true,
          .least = 0,
          .greatest = 0,
          .words = words,
          .meaning = meaning};
}

constexpr ParameterSpec some_of(std::string_view key, std::string_view words,
                                std::string_view meaning) {
  ParameterSpec spec = word(key, words, meaning);
  spec.type = ParameterType::words;
  return spec;
}

constexpr std::string_view places_in_group = "leading|following";

constexpr std::array current_parameters{
    required_number("share_of_rating", 0.1, 1,
                    "part of a pantograph's rated current that may be planned with"),
    number(
        "unequal_sharing", 1, 2,
        "current of the most loaded of several pantographs of a vehicle, against an equal share; "
        "not stated: 1")};
constexpr std::array current_demand_parameters{
    required_number("lowest_15kv_v", 5000, 20000, "voltage of AC 15 kV that is reckoned with"),
    required_number("lowest_25kv_v", 10000, 30000, "voltage of AC 25 kV that is reckoned with"),
    required_number("lowest_3kv_v", 1000, 4000, "voltage of DC 3 kV that is reckoned with"),
    required_number("lowest_1500v_v", 500, 2000, "voltage of DC 1.5 kV that is reckoned with"),
    required_number("power_factor_not_stated", 0.3, 1,
                    "on AC, of vehicles whose own is not stated"),
    required_number("efficiency_not_stated", 0.3, 1,
                    "from the wire to the wheels, of vehicles whose own is not stated")};
constexpr std::array standstill_current_parameters{
    required_number("ac_a", 0, 5000, "per pantograph, on AC"),
    required_number("dc_3kv_a", 0, 5000, "per pantograph, on DC 3 kV"),
    required_number("dc_1500v_a", 0, 5000, "per pantograph, on DC 1.5 kV")};
constexpr std::array design_spacing_parameters{
    number("speed_without_proof_kmh", 5, 400,
           "speed stated while consent or evidence is still missing"),
    ParameterSpec{.key = "spacing",
                  .type = ParameterType::spacing_table,
                  .required = true,
                  .least = 0,
                  .greatest = 0,
                  .words = {},
                  .meaning = "least distance between adjacent raised pantographs, by speed, system "
                             "and design type"}};
constexpr std::array facing_pair_parameters{
    word("frames", "both single-arm|any diamond", "which pairs it speaks of")};
constexpr std::array contact_point_parameters{
    word("place", places_in_group,
         "the leading working vehicle of its group, or the ones that follow"),
    required_number("least_contact_points", 1, 8, "contact strips on the wire, at least")};
constexpr std::array ice_pantograph_parameters{
    word("place", places_in_group,
         "the leading working vehicle of its group, or the ones that follow"),
    required_number("least_raised", 1, 8, "pantographs up on the vehicle, at least")};
constexpr std::array ice_speed_parameters{
    number("speed_kmh", 5, 400, "greatest speed on an iced contact wire")};
constexpr std::array speed_restriction_parameters{
    required_number("speed_kmh", 5, 400, "greatest speed where the rule holds")};
constexpr std::array single_contact_parameters{
    number("speed_kmh", 5, 400, "greatest speed with a single contact strip on the wire")};
constexpr std::array load_protection_parameters{
    some_of("natures", "dangerous|sensitive", "loads that are protected"),
    number("reach_m", 0, 3000,
           "distance behind a working vehicle beyond which a load needs no protection from it; not "
           "stated: no such distance")};
constexpr std::array prescribed_position_parameters{
    word("place", "last|not last|ahead of load",
         "the last working vehicle of its group, the ones before it, or the one whose pantographs "
         "a protected load stands behind"),
    word("position", "front|rear", "the pantograph that practice wants up")};
constexpr std::array change_while_lowered_parameters{
    number("lowering_speed_kmh", 5, 400, "greatest speed at which pantographs are lowered"),
    number("raising_speed_kmh", 5, 400, "greatest speed at which pantographs are raised")};
constexpr std::array change_on_the_move_parameters{
    number("speed_kmh", 5, 400, "greatest speed at which pantographs are changed on the move")};
constexpr std::array propelling_parameters{
    number("speed_kmh", 5, 400, "greatest speed where wagons lead; not stated: only with consent")};
constexpr std::array driver_times_parameters{
    required_number("reaction_time_s", 0, 60, "from the driver seeing the place to the action"),
    required_number("breaker_time_s", 0, 10, "from the command to the main circuit breaker open"),
    required_number("landmark_within_m", 0, 5000,
                    "an action is tied to a landmark no farther away than this"),
    number("least_gain_kmh", 0, 100,
           "a higher speed between two lower ones is ordered where the train can get this much "
           "faster, or reach it; not stated: wherever it is permitted")};

constexpr std::string_view all_systems = "AC 15 kV 16.7 Hz|AC 25 kV 50 Hz|DC 3 kV|DC 1.5 kV";
constexpr ParameterSpec of_systems =
    some_of("systems", all_systems, "energy supply systems that it holds on");
constexpr ParameterSpec above_speed =
    number("above_kmh", 0, 400, "it holds at higher speeds than this; not stated: at all");
constexpr ParameterSpec up_to_speed =
    number("up_to_kmh", 0, 400, "it holds up to this speed; not stated: at all");
constexpr std::array mean_contact_force_parameters{
    of_systems,
    above_speed,
    up_to_speed,
    required_number("upper_n", 0, 500, "greatest mean contact force at standstill"),
    required_number("upper_n_per_kmh2", 0, 0.01, "its growth with the square of the speed"),
    required_number("lower_n", 0, 500, "least mean contact force at standstill"),
    required_number("lower_n_per_kmh2", 0, 0.01, "its growth with the square of the speed")};
constexpr std::array force_deviation_parameters{
    required_number("share_of_mean", 0.05, 1,
                    "greatest standard deviation as a share of the mean contact force"),
    required_number("uncertainty", 0, 0.5,
                    "share by which a computed standard deviation is raised before it is judged")};
constexpr std::array statistical_maximum_parameters{
    of_systems, above_speed, up_to_speed,
    required_number("limit_n", 50, 1000, "greatest mean + 3 standard deviations")};
constexpr std::array statistical_minimum_parameters{
    required_number("above_n", 0, 100, "mean - 3 standard deviations is above this")};
constexpr std::array contact_loss_parameters{
    required_number("greatest_percent", 0, 10, "greatest share of the time without contact"),
    required_number("longest_ms", 0, 1000, "longest single loss of contact")};
constexpr std::array support_uplift_parameters{
    required_number("factor", 1, 5, "space at the support, in times the computed uplift"),
    required_number("factor_where_limited", 1, 5, "the same, where the line limits uplift")};
constexpr std::array wave_speed_share_parameters{
    required_number("share", 0.1, 1, "greatest speed as a share of the contact wire's wave speed")};
constexpr std::array speed_by_mechanics_parameters{
    required_number("scan_from_kmh", 10, 200, "lowest speed that is computed"),
    required_number("scan_step_kmh", 1, 50, "greatest step of the scan"),
    required_number("edge_kmh", 0.1, 10,
                    "the speed that fails is found to within this, and every step of speed is a "
                    "multiple of it"),
    required_number(
        "steepest_margin_per_kmh", 0, 1,
        "where margins of what swings with speed are so small that a change as steep as "
        "this could hide a failing band between two speeds, the speed between them is "
        "computed too"),
    required_number("close_margin", 0, 1,
                    "where such a margin is smaller than this, every step of speed is computed"),
    required_number("evaluated_spans", 2, 50, "spans of a regular line that are evaluated"),
    required_number("step_ms", 0.05, 5, "step in time of the runs")};
constexpr std::array tolerance_parameters{
    required_number("tension_share", 0, 0.5, "tension of each wire, as a share of it"),
    required_number("dropper_length_mm", 0, 100, "length of each dropper"),
    required_number("static_force_n", 0, 50, "static force of each pantograph"),
    required_number("span_length_m", 0, 10, "place of each support along the track"),
    required_number("support_stiffness_share", 0, 0.9,
                    "stiffness of the messenger supports, as a share of it"),
    required_number("damping_share", 0, 1, "damping of the wires, as a share of it"),
    required_number("steady_arm_mass_share", 0, 0.9, "mass of the steady arms, as a share of it"),
    required_number("aerodynamic_share", 0, 0.9,
                    "aerodynamic factor of the pantographs, as a share of it")};

constexpr std::array zones_joined_parameters{
    required_number("strips_not_stated_m", 0.05, 3,
                    "reach of a collector head's contact strips along the track, from the first "
                    "edge to the last, where its type does not state it")};

constexpr std::array lateral_position_parameters{
    required_number("permitted_1600_m", 0.05, 1,
                    "permitted lateral position of the wire under a 1600 mm head"),
    required_number("permitted_1950_m", 0.05, 1,
                    "permitted lateral position of the wire under a 1950 mm head"),
    required_number("horn_not_stated_m", 0, 0.5,
                    "width of each horn of another head whose working width is not stated"),
    required_number("vehicle_sway_m", 0, 0.5,
                    "sway of the pantograph, taken off half a working width"),
    required_number("track_position_m", 0, 0.5,
                    "track and wire out of their places, taken off every permitted position"),
    required_number("air_density_kg_per_m3", 0.5, 2, "density of air"),
    required_number("drag_factor", 0.5, 2, "drag of a round wire"),
    required_number("gust_factor", 1, 3, "speed of gusts, in times the stated wind"),
    number("design_wind_ms", 0, 80, "the wind where the day's is not stated, without gusts")};
constexpr std::array coasting_parameters{
    required_number("rotating_mass_factor", 1, 1.5,
                    "what has to be slowed down or speeded up, rotating masses included, in times "
                    "the mass of the train"),
    required_number("lowest_speed_kmh", 0, 60,
                    "a train whose computed speed falls below this is taken as one that may come "
                    "to a stand"),
    number("gradient_not_stated_permille", 0, 120,
           "uphill gradient that is reckoned with where the route states none; not stated: what "
           "becomes of the train there is not known")};
constexpr std::array vehicle_speed_parameters{
    number("load_not_stated_kmh", 5, 400,
           "greatest speed with a load whose own is not stated, in a train that states none; not "
           "stated: it is said that nothing limits the speed for such a load")};
constexpr std::array standing_place_parameters{
    word("place", "stop|signal", "where the train stands"),
    required_number("stops_short_m", 0, 200,
                    "the train may come to a stand as much short of the place")};

constexpr std::span<const ParameterSpec> none{};

constexpr std::array specs{
    RuleKindSpec{pantograph_supply, "pantograph-supply", true, none,
                 "a raised pantograph is for the section's energy supply system"},
    RuleKindSpec{pantograph_head, "pantograph-head", true, none,
                 "a raised pantograph's head is of a type, or a width, that the section permits"},
    RuleKindSpec{contact_strip, "contact-strip", true, none,
                 "a raised pantograph's strips are of a material, and a metallic content, that the "
                 "section permits"},
    RuleKindSpec{automatic_dropping_device, "automatic-dropping-device", true, none,
                 "where the section requires it, a raised pantograph has one"},
    RuleKindSpec{wire_height, "wire-height", true, none,
                 "the section's wire heights lie within a raised pantograph's working range"},
    RuleKindSpec{defective_pantograph, "defective-pantograph", true, none,
                 "a defective pantograph stays down"},
    RuleKindSpec{operators_order, "operators-order", true, none,
                 "what the train file orders up is up wherever it may be, what it orders down "
                 "stays down"},
    RuleKindSpec{dead_in_tow, "dead-in-tow", true, none,
                 "a vehicle dead in tow has no pantograph up"},
    RuleKindSpec{put_dead_in_tow, "put-dead-in-tow", false, none,
                 "a working vehicle may go dead in tow where nothing else is left"},
    RuleKindSpec{current_per_pantograph, "current-per-pantograph", false, current_parameters,
                 "a vehicle has as many pantographs up as its current needs"},
    RuleKindSpec{train_current, "train-current", false, none,
                 "the train draws no more than the section's greatest train current"},
    RuleKindSpec{raised_record, "raised-record", true, none,
                 "number, distance and speed keep to a record of the section"},
    RuleKindSpec{design_spacing, "design-spacing", true, design_spacing_parameters,
                 "where the section has no record: distance and speed by its design type"},
    RuleKindSpec{facing_pair, "facing-pair", false, facing_pair_parameters,
                 "a raised rear pantograph directly before the next vehicle's raised front one",
                 true},
    RuleKindSpec{contact_points, "contact-points", false, contact_point_parameters,
                 "a vehicle's raised pantographs have so many contact strips on the wire", true},
    RuleKindSpec{ice_pantographs, "ice-pantographs", false, ice_pantograph_parameters,
                 "on an iced contact wire a vehicle has so many pantographs up", true},
    RuleKindSpec{ice_speed, "ice-speed", false, ice_speed_parameters,
                 "speed on an iced contact wire", true},
    RuleKindSpec{single_contact_speed, "single-contact-speed", false, single_contact_parameters,
                 "speed where the leading working vehicle has one contact strip on the wire", true},
    RuleKindSpec{
        load_protection, "load-protection", false, load_protection_parameters,
        "no pantograph up on the rear half of the working vehicle nearest ahead of a load"},
    RuleKindSpec{prescribed_position, "prescribed-position", false, prescribed_position_parameters,
                 "which pantograph of a working vehicle is up", true},
    RuleKindSpec{greatest_distance, "greatest-distance", false, none,
                 "the farther apart the raised pantographs of different vehicles, the better",
                 true},
    RuleKindSpec{clean_windscreen, "clean-windscreen", false, none,
                 "no pantograph up on the rear half of a vehicle directly before another one",
                 true},
    RuleKindSpec{fewest_raised, "fewest-raised", false, none, "no more pantographs up than needed",
                 true},
    RuleKindSpec{line_speed, "line-speed", true, none, "the section's line speed"},
    RuleKindSpec{vehicle_speed, "vehicle-speed", true, vehicle_speed_parameters,
                 "the highest speed of the vehicles, the load and the train"},
    RuleKindSpec{pantograph_speed, "pantograph-speed", true, none,
                 "the highest speed of the raised pantographs"},
    RuleKindSpec{change_at_stop, "change-at-stop", false, none,
                 "pantographs may be changed at a stop"},
    RuleKindSpec{change_while_lowered, "change-while-lowered", false,
                 change_while_lowered_parameters,
                 "pantographs may be changed where all are lowered; how fast the train runs there"},
    RuleKindSpec{change_on_the_move, "change-on-the-move", false, change_on_the_move_parameters,
                 "pantographs may be changed at a marked place on the move"},
    RuleKindSpec{leave_on_the_move, "leave-on-the-move", false, none,
                 "vehicles may drop back from a train that does not stop, where its run says so"},
    RuleKindSpec{driver_times, "driver-times", true, driver_times_parameters,
                 "the times that instructions allow for"},
    RuleKindSpec{mean_contact_force, "mean-contact-force", false, mean_contact_force_parameters,
                 "computed mean contact force lies between two curves over speed"},
    RuleKindSpec{force_deviation, "force-deviation", false, force_deviation_parameters,
                 "computed standard deviation of contact force, against its mean"},
    RuleKindSpec{statistical_maximum, "statistical-maximum", false, statistical_maximum_parameters,
                 "computed mean + 3 standard deviations of contact force"},
    RuleKindSpec{statistical_minimum, "statistical-minimum", false, statistical_minimum_parameters,
                 "computed mean - 3 standard deviations of contact force"},
    RuleKindSpec{contact_loss, "contact-loss", false, contact_loss_parameters,
                 "computed loss of contact: its share of the time, and the longest"},
    RuleKindSpec{support_uplift, "support-uplift", false, support_uplift_parameters,
                 "computed uplift at supports, against the space that the line has for it"},
    RuleKindSpec{wave_speed_share, "wave-speed-share", false, wave_speed_share_parameters,
                 "speed of the train against the speed of waves in the contact wire"},
    RuleKindSpec{speed_by_mechanics, "speed-by-mechanics", false, speed_by_mechanics_parameters,
                 "where it is asked for: the speed up to which every computed speed passes"},
    RuleKindSpec{tolerances, "tolerances", false, tolerance_parameters,
                 "what lines and pantographs may differ by from their data, either way"},
    RuleKindSpec{zones_joined, "zones-joined", false, zones_joined_parameters,
                 "in a separation section raised pantographs join no live zone with another phase "
                 "or system or with earth, by the section's zones"},
    RuleKindSpec{separation_length, "separation-length", false, none,
                 "in a separation section the distances of raised pantographs keep to its length"},
    RuleKindSpec{separation_unknown, "separation-unknown", false, none,
                 "several pantographs up in a separation section of which neither zones nor the "
                 "meaning of its length are stated; strength: consent needed, or forbidden"},
    RuleKindSpec{current_demand, "current-demand", false, current_demand_parameters,
                 "the current of a vehicle whose own is not stated, from its power"},
    RuleKindSpec{standstill_current, "standstill-current", false, standstill_current_parameters,
                 "at a stand, where the section has no record: current per raised pantograph"},
    RuleKindSpec{strip_wear, "strip-wear", false, none,
                 "says what several raised pantographs of a vehicle do to the wear of strips",
                 true},
    RuleKindSpec{lateral_position, "lateral-position", false, lateral_position_parameters,
                 "in the wind the contact wire stays on the raised pantographs' heads, where the "
                 "section states its spans"},
    RuleKindSpec{coasting, "coasting", false, coasting_parameters,
                 "where it runs without power the train comes to no stand, and that is known; "
                 "strength: consent needed, last resort or note"},
    RuleKindSpec{standing_place, "standing-place", false, standing_place_parameters,
                 "where the train stands no raised pantograph is in a neutral or an earthed zone, "
                 "an overlap or a section insulator; strength: consent needed, last resort or "
                 "note"},
    RuleKindSpec{line_boards, "line-boards", false, none,
                 "orders for a stretch passed without power stand at the boards that the line has "
                 "for it"},
    RuleKindSpec{propelling, "propelling", false, propelling_parameters,
                 "wagons lead, with no cab ahead", true},
    RuleKindSpec{runnable_first, "runnable-first", false, none,
                 "what needs no consent goes before what needs one"},
    RuleKindSpec{speed_restriction, "speed-restriction", false, speed_restriction_parameters,
                 "a greatest speed, whether pantographs are up or down", true},
    RuleKindSpec{head_by_width, "head-by-width", false, none,
                 "says where a raised pantograph's head is permitted by its width alone"},
    RuleKindSpec{permitted_static_force, "permitted-static-force", true, none,
                 "a raised pantograph's static force is no more than the section permits"},
    RuleKindSpec{current_limitation, "current-limitation", true, none,
                 "where the section requires it, a working vehicle limits its current or power"},
    RuleKindSpec{separation_document, "separation-document", false, none,
                 "says which document restricts where traction units stand, for separation "
                 "sections"},
    RuleKindSpec{permitted_contact_force, "permitted-contact-force", true, none,
                 "a raised pantograph presses no harder at speed than the section permits, and "
                 "where that is not known, it is said"},
    RuleKindSpec{temperature_range, "temperature-range", false, none,
                 "the day's temperature is one for which the section is built, where it states "
                 "its range; strength: consent needed, last resort or note"},
};

}  // namespace

std::span<const RuleKindSpec> rule_kinds() { return specs; }

const RuleKindSpec& spec_of(RuleKind kind) { return specs.at(static_cast<std::size_t>(kind)); }

const RuleKindSpec* rule_kind_named(std::string_view name) {
  const auto* const found = std::ranges::find(specs, name, &RuleKindSpec::name);
  return found == specs.end() ? nullptr : found;
}

}  // namespace panup
