#include "rules/judge.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>

#include "rules/judge_parts.h"

namespace panup {

namespace {

LoadProtection protection_of(const RuleBook& rules) {
  const Rule* const rule = rule_in_force(rules, RuleKind::load_protection);
  LoadProtection protection;
  if (rule == nullptr) {
    return protection;
  }
  if (const auto natures = rule->lists.find("natures"); natures != rule->lists.end()) {
    protection.dangerous = std::ranges::find(natures->second, "dangerous") != natures->second.end();
    protection.sensitive = std::ranges::find(natures->second, "sensitive") != natures->second.end();
  }
  protection.reach_m = number_of(*rule, "reach_m");
  return protection;
}

PantographSet fit_for(const RunningTrain& train, const LineProperties& section) {
  PantographSet fit = 0;
  for (std::size_t bit = 0; bit < train.pantographs.size(); ++bit) {
    const PantographType& type = *train.pantographs[bit].type;
    if (section.supply && supply_of(type, *section.supply) != nullptr && admits(section, type)) {
      fit |= PantographSet{1} << bit;
    }
  }
  return fit;
}

/// Vehicles that work but have nothing up.
void judge_put_dead(const RuleBook& rules, const JudgedCase& judged, Opinion& opinion) {
  const auto rule = std::ranges::find(rules.rules, RuleKind::put_dead_in_tow, &Rule::kind);
  bool leading = true;
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    const RunningVehicle& vehicle = judged.train.vehicles[v];
    if (vehicle.dead) {
      continue;
    }
    if (!judged.roles[v].working) {
      ++opinion.verdict.put_dead;
      opinion.verdict.leading_put_dead |= leading;
      if (rule == rules.rules.end()) {
        opinion.verdict.forbidden = true;
      } else if (!rule->on) {
        opinion.forbid(*rule, [&] {
          return fmt::format(
              "{} has no pantograph up, and the rule book does not let it go dead in "
              "tow.",
              name_of(vehicle));
        });
      } else if (judged.raised == 0) {
        opinion.forbid(*rule, [&] {
          return fmt::format("{} has no pantograph up, and nothing else moves the train.",
                             name_of(vehicle));
        });
      } else {
        opinion.say(*rule, Strength::last_resort, [&] { return put_dead_text(judged, vehicle); });
      }
    }
    leading = false;
  }
}

void apply(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  switch (rule.kind) {
    case RuleKind::pantograph_supply:
    case RuleKind::pantograph_head:
    case RuleKind::contact_strip:
    case RuleKind::automatic_dropping_device:
    case RuleKind::wire_height:
      return judge_fit(rule, judged, opinion);
    case RuleKind::defective_pantograph:
      return judge_defective(rule, judged, opinion);
    case RuleKind::operators_order:
      return judge_order(rule, judged, opinion);
    case RuleKind::dead_in_tow:
      return judge_dead_in_tow(rule, judged, opinion);
    case RuleKind::raised_record:
      return judge_raised_record(rule, judged, opinion);
    case RuleKind::design_spacing:
      return judge_design_spacing(rule, judged, opinion);
    case RuleKind::facing_pair:
      return judge_facing_pair(rule, judged, opinion);
    case RuleKind::contact_points:
    case RuleKind::ice_pantographs:
      return judge_contact_points(rule, judged, opinion);
    case RuleKind::ice_speed:
    case RuleKind::single_contact_speed:
      return judge_restriction(rule, judged, opinion);
    case RuleKind::load_protection:
      return judge_load_protection(rule, judged, opinion);
    case RuleKind::prescribed_position:
      return judge_prescribed_position(rule, judged, opinion);
    case RuleKind::greatest_distance:
      return judge_distance(judged, opinion);
    case RuleKind::clean_windscreen:
      return judge_windscreen(judged, opinion);
    case RuleKind::fewest_raised:
      opinion.verdict.raised = static_cast<std::uint16_t>(judged.raised_bits.size());
      return;
    case RuleKind::line_speed:
    case RuleKind::vehicle_speed:
    case RuleKind::pantograph_speed:
      return judge_highest_speed(rule, judged, opinion);
    case RuleKind::put_dead_in_tow:
    case RuleKind::change_at_stop:
    case RuleKind::change_while_lowered:
    case RuleKind::change_on_the_move:
    case RuleKind::driver_times:
    case RuleKind::mean_contact_force:
    case RuleKind::force_deviation:
    case RuleKind::statistical_maximum:
    case RuleKind::statistical_minimum:
    case RuleKind::contact_loss:
    case RuleKind::support_uplift:
    case RuleKind::wave_speed_share:
    case RuleKind::speed_by_mechanics:
    case RuleKind::tolerances:
    case RuleKind::zones_joined:
    case RuleKind::separation_length:
    case RuleKind::separation_unknown:
    case RuleKind::current_demand:
    case RuleKind::current_per_pantograph:
    case RuleKind::train_current:
    case RuleKind::standstill_current:
    case RuleKind::strip_wear:
    case RuleKind::lateral_position:
    case RuleKind::coasting:
    case RuleKind::standing_place:
      return;  // asked where they matter, by further rules, or of runs of the mechanics
  }
}

}  // namespace

const Rule* rule_in_force(const RuleBook& rules, RuleKind kind) {
  const auto found = std::ranges::find_if(
      rules.rules, [kind](const Rule& rule) { return rule.on && rule.kind == kind; });
  return found == rules.rules.end() ? nullptr : &*found;
}

std::optional<double> number_of(const Rule& rule, std::string_view key) {
  const auto found = rule.numbers.find(key);
  return found == rule.numbers.end() ? std::nullopt : std::optional(found->second);
}

Judge::Judge(const RuleBook& rules, const Train& train, bool reversed, OutsideRules outside)
    : rules_(&rules), running_(set_running(train, reversed)), outside_(std::move(outside)) {
  for (const Rule& rule : rules.rules) {
    if (rule.on) {
      in_force_.push_back(&rule);
    }
  }
  const LoadProtection protection = protection_of(rules);
  const auto able =
      static_cast<std::size_t>(std::ranges::count(running_.vehicles, false, &RunningVehicle::dead));
  roles_.resize(std::size_t{1} << able);
  for (std::size_t index = 0; index < roles_.size(); ++index) {
    std::vector<bool> working;
    std::size_t place = 0;
    for (const RunningVehicle& vehicle : running_.vehicles) {
      working.push_back(!vehicle.dead && (index >> place & 1U) != 0);
      place += vehicle.dead ? 0 : 1;
    }
    roles_[index] = assign_roles(running_, working, protection);
  }
}

std::size_t Judge::working_index(PantographSet raised) const {
  std::size_t index = 0;
  std::size_t place = 0;
  for (const RunningVehicle& vehicle : running_.vehicles) {
    if (vehicle.dead) {
      continue;
    }
    if ((raised & vehicle.all) != 0) {
      index |= std::size_t{1} << place;
    }
    ++place;
  }
  return index;
}

const std::vector<VehicleRole>& Judge::roles(PantographSet raised) const {
  return roles_[working_index(raised)];
}

Ground Judge::ground(const Section& section, bool iced,
                     std::vector<const LowPlace*> low_places) const {
  Ground ground{.section = section, .iced = iced, .fit = fit_for(running_, section)};
  for (std::size_t bit = 0; bit < running_.pantographs.size(); ++bit) {
    for (const LowPlace* const place : low_places) {
      if (!follows(*running_.pantographs[bit].type, *place)) {
        ground.fit &= ~(PantographSet{1} << bit);
      }
    }
  }
  ground.low_places = std::move(low_places);
  ground.consents = consents_on(*running_.train, section);
  return ground;
}

PantographSet Judge::usable(const LineProperties& section) const {
  PantographSet usable = fit_for(running_, section) & ~running_.kept_down;
  for (const RunningVehicle& vehicle : running_.vehicles) {
    if (vehicle.dead) {
      usable &= ~vehicle.all;
    }
  }
  return usable;
}

Verdict Judge::judge(const Ground& ground, PantographSet raised, PantographSet defective,
                     std::vector<Finding>* findings) const {
  JudgedCase judged{.train = running_,
                    .section = ground.section,
                    .iced = ground.iced,
                    .fit = ground.fit,
                    .raised = raised,
                    .defective = defective,
                    .roles = roles(raised),
                    .raised_bits = {},
                    .separations = ground.separations,
                    .low_places = ground.low_places,
                    .consents = ground.consents};
  judged.raised_bits.reserve(static_cast<std::size_t>(std::popcount(raised)));
  for (const int bit : running_.front_first) {
    if ((raised >> bit & 1U) != 0) {
      judged.raised_bits.push_back(bit);
    }
  }
  Verdict verdict;
  Opinion opinion{verdict, findings, outside_.spacing_yields && outside_.spacing_yields(judged)};
  judge_put_dead(*rules_, judged, opinion);
  for (const Rule* const rule : in_force_) {
    apply(*rule, judged, opinion);
  }
  for (const FurtherRule& further : outside_.further) {
    further(judged, opinion);
  }
  return verdict;
}

Verdict Judge::judge_lowered(const Ground& ground, std::vector<Finding>* findings) const {
  const JudgedCase judged{.train = running_,
                          .section = ground.section,
                          .iced = ground.iced,
                          .fit = 0,
                          .raised = 0,
                          .defective = 0,
                          .roles = roles(0),
                          .raised_bits = {}};
  Verdict verdict;
  Opinion opinion{verdict, findings};
  for (const Rule& rule : rules_->rules) {
    if (rule.kind == RuleKind::change_while_lowered) {
      judge_lowered_speed(rule, opinion);  // the speeds hold also where changing there is off
    } else if (rule.on &&
               (rule.kind == RuleKind::line_speed || rule.kind == RuleKind::vehicle_speed)) {
      judge_highest_speed(rule, judged, opinion);
    } else if (rule.on && rule.kind == RuleKind::ice_speed) {
      judge_restriction(rule, judged, opinion);
    }
  }
  return verdict;
}

std::vector<PantographSet> Judge::prescribed(const Ground& ground, PantographSet raised) const {
  const JudgedCase judged{.train = running_,
                          .section = ground.section,
                          .iced = ground.iced,
                          .fit = ground.fit,
                          .raised = raised,
                          .defective = 0,
                          .roles = roles(raised),
                          .raised_bits = {}};
  std::vector<PantographSet> sets(running_.vehicles.size(), 0);
  for (const Rule* const rule : in_force_) {
    if (rule->kind != RuleKind::prescribed_position) {
      continue;
    }
    for (std::size_t v = 0; v < sets.size(); ++v) {
      if (speaks_of(*rule, judged.roles[v])) {
        sets[v] = prescribed_on(*rule, judged, judged.train.vehicles[v]);
      }
    }
  }
  return sets;
}

}  // namespace panup
