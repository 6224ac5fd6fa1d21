#include "judging/judging_table.h"

#include <algorithm>
#include <array>

#include "judging/judge_parts.h"

namespace panup {

namespace {

using enum RuleKind;

constexpr KindOfJudging usual(RuleKind kind, JudgingFunction raised) {
  return {.kind = kind, .raised = raised};
}

/// Speeds that hold whether pantographs are up or down.
constexpr KindOfJudging up_or_down(RuleKind kind, JudgingFunction both) {
  return {.kind = kind, .raised = both, .lowered = both};
}

constexpr KindOfJudging of_every_wire(RuleKind kind, JudgingFunction raised) {
  return {.kind = kind, .raised = raised, .of_every_wire = true};
}

constexpr KindOfJudging late(RuleKind kind, JudgingFunction raised) {
  return {.kind = kind, .raised = raised, .turn = Turn::late, .first_only = true};
}

/// What one vehicle draws leaves the others less, where the line limits the whole train.
constexpr KindOfJudging of_currents(RuleKind kind, JudgingFunction raised) {
  return {
      .kind = kind, .raised = raised, .turn = Turn::late, .first_only = true, .of_a_part = false};
}

constexpr KindOfJudging asked_in(RuleKind kind, std::string_view elsewhere) {
  return {.kind = kind, .elsewhere = elsewhere};
}

constexpr std::string_view of_runs = "quality, of runs of the mechanics";
constexpr std::string_view on_the_way = "plan, where pantographs change along the route";

constexpr std::array table{
    usual(pantograph_supply, judge_fit),
    usual(pantograph_head, judge_fit),
    usual(contact_strip, judge_fit),
    usual(automatic_dropping_device, judge_fit),
    usual(wire_height, judge_fit),
    usual(defective_pantograph, judge_defective),
    KindOfJudging{.kind = operators_order, .raised = judge_order, .of_a_part = false},
    usual(dead_in_tow, judge_dead_in_tow),
    KindOfJudging{.kind = put_dead_in_tow,
                  .raised = judge_put_dead,
                  .turn = Turn::first,
                  .also_off = true,
                  .first_only = true,
                  .of_a_part = false},
    of_currents(current_per_pantograph, judge_current_per_pantograph),
    of_currents(train_current, judge_train_current),
    of_every_wire(raised_record, judge_raised_record),
    of_every_wire(design_spacing, judge_design_spacing),
    usual(facing_pair, judge_facing_pair),
    usual(contact_points, judge_contact_points),
    usual(ice_pantographs, judge_contact_points),
    up_or_down(ice_speed, judge_restriction),
    usual(single_contact_speed, judge_restriction),
    usual(load_protection, judge_load_protection),
    usual(prescribed_position, judge_prescribed_position),
    usual(greatest_distance, judge_distance),
    usual(clean_windscreen, judge_windscreen),
    usual(fewest_raised, judge_fewest_raised),
    up_or_down(line_speed, judge_highest_speed),
    up_or_down(vehicle_speed, judge_highest_speed),
    usual(pantograph_speed, judge_highest_speed),
    asked_in(change_at_stop, on_the_way),
    // Its speeds hold also where changing there is off.
    KindOfJudging{.kind = change_while_lowered, .lowered = judge_lowered_speed, .also_off = true},
    asked_in(change_on_the_move, on_the_way),
    asked_in(leave_on_the_move, "day, where parts of a run are joined under way"),
    asked_in(driver_times, "plan, where orders to the driver are given"),
    asked_in(mean_contact_force, of_runs),
    asked_in(force_deviation, of_runs),
    asked_in(statistical_maximum, of_runs),
    asked_in(statistical_minimum, of_runs),
    asked_in(contact_loss, of_runs),
    asked_in(support_uplift, of_runs),
    asked_in(wave_speed_share, of_runs),
    KindOfJudging{.kind = speed_by_mechanics,
                  .raised = judge_computed_speed,
                  .turn = Turn::last,
                  .first_only = true,
                  .of_a_part = false},
    asked_in(tolerances, "quality, where an envelope is computed with tolerances"),
    late(zones_joined, judge_zones_joined),
    late(separation_length, judge_separation_length),
    late(separation_unknown, judge_separation_unknown),
    asked_in(current_demand, "current.h, by the rules on current"),
    asked_in(standstill_current, "plan, where the train stands"),
    late(strip_wear, judge_strip_wear),
    late(lateral_position, judge_lateral_position),
    asked_in(coasting, "plan, where the breaker is open along the route"),
    asked_in(standing_place, "plan, where the train stands"),
    asked_in(line_boards, "plan, where orders to the driver are given"),
    up_or_down(propelling, judge_propelling),
    asked_in(runnable_first, "plan, by the ladder"),
    up_or_down(speed_restriction, judge_speed_restriction),
    usual(head_by_width, judge_width_alone),
    usual(permitted_static_force, judge_fit),
    usual(RuleKind::current_limitation, judge_current_limitation),
    usual(RuleKind::separation_document, judge_separation_document),
    usual(permitted_contact_force, judge_contact_force),
    usual(temperature_range, judge_temperature),
};

constexpr bool in_the_order_of_the_enumeration() {
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (static_cast<std::size_t>(table[i].kind) != i) {
      return false;
    }
  }
  return true;
}
static_assert(in_the_order_of_the_enumeration());

}  // namespace

std::span<const KindOfJudging> judging_table() { return table; }

const KindOfJudging& judging_of(RuleKind kind) { return table.at(static_cast<std::size_t>(kind)); }

}  // namespace panup
