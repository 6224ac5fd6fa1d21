#include "judging/judge.h"

#include <tbb/concurrent_unordered_map.h>

#include <algorithm>

#include "judging/facts/train_collectors.h"
#include "judging/judge_parts.h"
#include "judging/judging_table.h"
#include "judging/limited_rules.h"

namespace panup {

/// Of the sets of working vehicles that were asked for: of a long train there are too many to
/// assign roles for all of them beforehand.
class KnownRoles {
 public:
  template <typename Assign>
  const std::vector<VehicleRole>& of(PantographSet working, const Assign& assign) {
    if (const auto known = roles_.find(working); known != roles_.end()) {
      return known->second;
    }
    return roles_.emplace(working, assign()).first->second;
  }

 private:
  // Its entries stay where they are, and may be read while others are added.
  tbb::concurrent_unordered_map<PantographSet, std::vector<VehicleRole>, std::hash<PantographSet>>
      roles_;
};

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
  PantographSet fit;
  for (std::size_t p = 0; p < train.pantographs.size(); ++p) {
    const PantographType& type = *train.pantographs[p].type;
    if (section.supply && supply_of(type, *section.supply) != nullptr && admits(section, type)) {
      fit.insert(p);
    }
  }
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (!section.supply || !is_for(*vehicle.vehicle->type, *section.supply)) {
      fit -= vehicle.all;
    }
  }
  return fit;
}

/// The rules that are asked by one column of the table, in order.
std::vector<const Rule*> asked_of(const std::vector<const Rule*>& rules,
                                  JudgingFunction KindOfJudging::*column) {
  std::vector<const Rule*> asked;
  for (const Rule* const rule : rules) {
    const KindOfJudging& judging = judging_of(rule->kind);
    if (judging.*column != nullptr && (rule->on || judging.also_off)) {
      asked.push_back(rule);
    }
  }
  std::ranges::stable_sort(asked, {}, [](const Rule* rule) { return judging_of(rule->kind).turn; });
  return asked;
}

/// Those that hold on the section.
std::vector<const Rule*> asked_on(const std::vector<const Rule*>& rules, const Section& section) {
  std::vector<const Rule*> asked;
  for (const Rule* const rule : rules) {
    const bool speaks = !judging_of(rule->kind).first_only ||
                        std::ranges::find(asked, rule->kind, &Rule::kind) == asked.end();
    if (speaks && holds_on(rule->only_for, section)) {
      asked.push_back(rule);
    }
  }
  return asked;
}

/// Stands in where a book says nothing of vehicles put dead in tow: what is not stated is not
/// permitted.
const Rule& no_tow_by_the_book() {
  static const Rule rule = [] {
    Rule off;
    off.id = spec_of(RuleKind::put_dead_in_tow).name;
    off.kind = RuleKind::put_dead_in_tow;
    off.source = "not in the rule book";
    off.standing = Standing::derived;
    off.strength = Strength::forbidden;
    off.on = false;
    return off;
  }();
  return rule;
}

PreparedRules prepared(const RuleBook& rules, const DayWeather& weather,
                       ComputedSpeeds* computed_speeds) {
  return {.current = current_rules(rules),
          .separation = separation_rules(rules),
          .wind = wind_on_wire(rules, weather.wind_ms),
          .temperature_c = weather.temperature_c,
          .computed_speeds = computed_speeds};
}

}  // namespace

const Rule& rule_of_driver(const RuleBook& rules) {
  static const Rule not_in_the_book = [] {
    Rule rule;
    rule.id = spec_of(RuleKind::driver_times).name;
    rule.kind = RuleKind::driver_times;
    rule.source = "not in the rule book";
    rule.standing = Standing::derived;
    rule.strength = Strength::forbidden;
    return rule;
  }();
  const Rule* const rule = rule_in_force(rules, RuleKind::driver_times);
  return rule == nullptr ? not_in_the_book : *rule;
}

Judge::Judge(const RuleBook& rules, const Train& train, bool reversed, const DayWeather& weather,
             ComputedSpeeds* computed_speeds)
    : rules_(&rules),
      running_(set_running(train, reversed, rules.words)),
      prepared_(prepared(rules, weather, computed_speeds)),
      known_roles_(std::make_shared<KnownRoles>()) {
  std::vector<const Rule*> all;
  for (const Rule& rule : rules.rules) {
    if (holds_for(rule.only_for, train)) {
      all.push_back(&rule);
    }
  }
  if (std::ranges::find(rules.rules, RuleKind::put_dead_in_tow, &Rule::kind) == rules.rules.end()) {
    all.push_back(&no_tow_by_the_book());
  }
  asked_ = asked_of(all, &KindOfJudging::raised);
  asked_lowered_ = asked_of(all, &KindOfJudging::lowered);
  protection_ = protection_of(rules);
}

const std::vector<VehicleRole>& Judge::roles(PantographSet raised) const {
  const PantographSet working = working_in(running_, raised);
  return known_roles_->of(working, [&] {
    std::vector<bool> works;
    for (const RunningVehicle& vehicle : running_.vehicles) {
      works.push_back(working.intersects(vehicle.all));
    }
    return assign_roles(running_, works, protection_);
  });
}

Ground Judge::ground(const Section& section, bool iced, std::vector<const LowPlace*> low_places,
                     const std::vector<Behind>& behind) const {
  Ground ground{.section = section,
                .asked = asked_on(asked_, section),
                .asked_lowered = asked_on(asked_lowered_, section),
                .iced = iced,
                .fit = fit_for(running_, section)};
  for (const Behind& wire : behind) {
    ground.fit -= wire.under;
    ground.fit |= fit_for(running_, *wire.section) & wire.under;
    ground.behind.push_back({.under = wire.under,
                             .id = wire.section->id,
                             .section = *wire.section,
                             .consents = consents_on(*running_.train, *wire.section)});
  }
  for (std::size_t p = 0; p < running_.pantographs.size(); ++p) {
    for (const LowPlace* const place : low_places) {
      if (!follows(*running_.pantographs[p].type, *place)) {
        ground.fit.erase(p);
      }
    }
  }
  ground.low_places = std::move(low_places);
  ground.consents = consents_on(*running_.train, section);
  return ground;
}

PantographSet Judge::not_kept_down() const {
  PantographSet may_rise;
  for (const RunningVehicle& vehicle : running_.vehicles) {
    may_rise |= vehicle.dead ? PantographSet{} : vehicle.all;
  }
  return may_rise - running_.kept_down;
}

PantographSet Judge::usable(const LineProperties& section) const {
  return fit_for(running_, section) & not_kept_down();
}

PantographSet Judge::usable(const Ground& ground) const {
  PantographSet usable = ground.fit & not_kept_down();
  for (const StaysDown& down : ground.stays_down) {
    usable -= down.pantographs;
  }
  return usable;
}

JudgedCase Judge::case_of(const Ground& ground, PantographSet raised, PantographSet defective,
                          const std::vector<VehicleRole>& roles) const {
  JudgedCase judged{.train = running_,
                    .section = ground.section,
                    .section_id = {},
                    .iced = ground.iced,
                    .fit = ground.fit,
                    .raised = raised,
                    .defective = defective,
                    .roles = roles,
                    .raised_front_first = {},
                    .separations = ground.separations,
                    .low_places = ground.low_places,
                    .consents = ground.consents,
                    .behind = ground.behind,
                    .prepared = prepared_};
  judged.raised_front_first.reserve(raised.size());
  for (const std::size_t p : running_.front_first) {
    if (raised.contains(p)) {
      judged.raised_front_first.push_back(p);
    }
  }
  return judged;
}

Verdict Judge::judge(const Ground& ground, PantographSet raised, PantographSet defective,
                     std::vector<Finding>* findings) const {
  const JudgedCase judged = case_of(ground, raised, defective, roles(raised));
  Verdict verdict;
  Opinion opinion{.verdict = verdict,
                  .words = rules_->words,
                  .findings = findings,
                  .spacing_yields = prepared_.computed_speeds != nullptr &&
                                    prepared_.computed_speeds->stands_in_for_spacing(judged)};
  for (const Rule* const rule : ground.asked) {
    judging_of(rule->kind).raised(*rule, judged, opinion);
  }
  for (const WireBehind& wire : ground.behind) {
    if (wire.under.intersects(raised)) {
      judge_wire_behind(ground, wire, raised, opinion);
    }
  }
  for (const StaysDown& down : ground.stays_down) {
    if (down.pantographs.intersects(raised)) {
      opinion.forbid(rule_of_driver(*rules_), [&] { return down.because; });
    }
  }
  look_above_record(judged, opinion);
  return verdict;
}

Verdict Judge::judge_part(const Ground& ground, PantographSet raised, PantographSet working) const {
  Verdict verdict;
  Opinion opinion{.verdict = verdict,
                  .words = rules_->words,
                  .spacing_yields = prepared_.computed_speeds != nullptr};
  std::vector<VehicleRole> roles = this->roles(working);
  bool leading = true;
  for (std::size_t v = 0; v < roles.size(); ++v) {
    const RunningVehicle& vehicle = running_.vehicles[v];
    if (!vehicle.dead && !working.intersects(vehicle.all)) {
      ++verdict.put_dead;
      verdict.leading_put_dead |= leading;
    }
    leading = leading && vehicle.dead;
    if (!raised.intersects(vehicle.all)) {
      roles[v] = {};
    }
  }
  const JudgedCase judged = case_of(ground, raised, {}, roles);
  for (const Rule* const rule : ground.asked) {
    const KindOfJudging& judging = judging_of(rule->kind);
    if (judging.of_a_part) {
      judging.raised(*rule, judged, opinion);
    } else if (rule->kind == RuleKind::put_dead_in_tow && !rule->on && verdict.put_dead > 0) {
      verdict.forbidden = true;
    }
  }
  for (const StaysDown& down : ground.stays_down) {
    verdict.forbidden |= down.pantographs.intersects(raised);
  }
  return verdict;
}

Verdict Judge::judge_spacing(const Ground& ground, std::size_t number, double distance_m) const {
  Verdict verdict;
  Opinion opinion{.verdict = verdict,
                  .words = rules_->words,
                  .spacing_yields = prepared_.computed_speeds != nullptr};
  const std::vector<VehicleRole> none;
  const JudgedCase judged = case_of(ground, {}, {}, none);
  for (const Rule* const rule : ground.asked) {
    judge_number_and_distance(*rule, judged, number, distance_m, opinion);
  }
  return verdict;
}

/// Where the speed is from the mechanics, it may be above what the infrastructure manager permits.
/// That is evidence, and no permission.
void Judge::look_above_record(const JudgedCase& judged, Opinion& opinion) const {
  Verdict& verdict = opinion.verdict;
  if (!opinion.spacing_yields || verdict.forbidden ||
      verdict.speed_kmh <= verdict.record_speed_kmh) {
    return;
  }
  verdict.above_record = true;
  opinion.say(*verdict.record_rule, Strength::consent_needed, [&] {
    return rules_->words.say(
        "{} up: {:g} km/h by the mechanics, {:g} km/h permitted. The run is evidence to put to the "
        "infrastructure manager, and no permission: more than {:g} km/h only with consent.",
        list_of(running_, judged.raised), verdict.speed_kmh, verdict.record_speed_kmh,
        verdict.record_speed_kmh);
  });
}

void Judge::judge_wire_behind(const Ground& ground, const WireBehind& wire, PantographSet raised,
                              Opinion& opinion) const {
  Ground there = ground;
  there.section = wire.section;
  there.consents = wire.consents;
  JudgedCase judged = case_of(there, raised, {}, roles(raised));
  if (opinion.explains()) {
    judged.section_id = wire.id;
    opinion.further = rules_->words.say(" This is of section {}, whose wire is still over {}.",
                                        wire.id, list_of(running_, wire.under & raised));
  }
  for (const Rule* const rule : ground.asked) {
    if (judging_of(rule->kind).of_every_wire) {
      judging_of(rule->kind).raised(*rule, judged, opinion);
    }
  }
  opinion.further.clear();
}

Verdict Judge::judge_lowered(const Ground& ground, std::vector<Finding>* findings) const {
  const JudgedCase judged = case_of(ground, {}, {}, roles({}));
  Verdict verdict;
  Opinion opinion{.verdict = verdict, .words = rules_->words, .findings = findings};
  for (const Rule* const rule : ground.asked_lowered) {
    judging_of(rule->kind).lowered(*rule, judged, opinion);
  }
  return verdict;
}

std::vector<PantographSet> Judge::prescribed(const Ground& ground, PantographSet raised) const {
  const JudgedCase judged = case_of(ground, raised, {}, roles(raised));
  std::vector<PantographSet> sets(running_.vehicles.size());
  for (const Rule* const rule : ground.asked) {
    if (rule->kind != RuleKind::prescribed_position) {
      continue;
    }
    const PositionRule position = position_rule(*rule);
    for (std::size_t v = 0; v < sets.size(); ++v) {
      if (speaks_of(position, judged.roles[v])) {
        sets[v] = prescribed_on(position, judged, judged.train.vehicles[v]);
      }
    }
  }
  return sets;
}

const LineProperties& JudgedCase::section_over(std::size_t pantograph) const {
  for (const WireBehind& wire : behind) {
    if (wire.under.contains(pantograph)) {
      return wire.section;
    }
  }
  return section;
}

const std::string& JudgedCase::section_id_over(std::size_t pantograph) const {
  const auto over = std::ranges::find_if(
      behind, [&](const WireBehind& wire) { return wire.under.contains(pantograph); });
  return over == behind.end() ? section_id : over->id;
}

const RaisedCollectors& JudgedCase::collectors() const {
  if (!made_collectors) {
    made_collectors = raised_collectors(train, raised, prepared.separation.strips_not_stated_m);
  }
  return *made_collectors;
}

}  // namespace panup
