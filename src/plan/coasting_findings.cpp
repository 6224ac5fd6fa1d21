#include "plan/coasting_findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "judging/facts/coasting.h"
#include "judging/facts/train_collectors.h"
#include "judging/separation_rule.h"
#include "plan/coasting_words.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

const Stop* stop_within(const Route& route, const PowerlessStretch& stretch) {
  const auto found = std::ranges::find_if(route.stops, [&](const Stop& stop) {
    return stretch.off_km < stop.at_km && stop.at_km < stretch.on_km;
  });
  return found == route.stops.end() ? nullptr : &*found;
}

/// Whether the train turns round where its length or the stretch reaches: the gradient under it is
/// then not that of the chainage behind its front.
bool turns_round_on(const PlanningCase& planning, const PowerlessStretch& stretch) {
  const double rear_km = stretch.off_km - length_m(planning.request->train) / 1000;
  return std::ranges::any_of(planning.request->route.stops, [&](const Stop& stop) {
    return stop.reversal && rear_km < stop.at_km && stop.at_km < stretch.on_km;
  });
}

/// What of the train does not state what it runs on by.
std::string not_stated(const Train& train) {
  std::string names;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    const RunningData& data =
        vehicle != nullptr ? vehicle->type->running : std::get<LoadGroup>(item).running;
    if (data.mass_t && data.resistance) {
      continue;
    }
    names += (names.empty() ? "" : ", ") + (vehicle != nullptr
                                                ? fmt::format("vehicle {}", vehicle->number)
                                                : std::get<LoadGroup>(item).name);
  }
  return names;
}

RaisedCollectors raised_on(const PlanningCase& planning, const Way& way,
                           const PowerlessStretch& stretch) {
  const std::size_t piece = piece_reaching(planning, stretch.from_km() + 1e-6);
  const bool down = planning.pieces[piece].lowered;
  return raised_collectors(planning.judge(piece).train(),
                           down ? PantographSet{} : way.raised[piece].value_or(PantographSet{}),
                           strips_not_stated_m(planning.request->rules));
}

/// What is said of a stretch, by the rule.
struct Coasting {
  Strength strength{};
  std::string text;
  bool fails = false;  ///< the train comes to a stand, or too slow
};

std::optional<Coasting> coasting_on(const Rule& rule, const std::optional<CoastingTrain>& train,
                                    const CoastingPassage& passage) {
  const PlanningCase& planning = passage.planning;
  const PowerlessStretch& stretch = passage.stretch;
  if (const Stop* const stop = stop_within(planning.request->route, stretch)) {
    return Coasting{rule.strength, stop_within_words(passage, *stop)};
  }
  if (!train || turns_round_on(planning, stretch)) {
    return std::nullopt;
  }
  const auto& gradients = planning.request->route.gradients;
  const double lowest_kmh = number_of(rule, "lowest_speed_kmh").value_or(0);
  const auto run = coast(*train, gradients, stretch.off_km, stretch.on_km, stretch.speed_kmh / 3.6);
  const auto least_ms =
      least_entry_ms(*train, gradients, stretch.off_km, stretch.on_km, lowest_kmh / 3.6);
  if (!run || !least_ms) {
    return std::nullopt;
  }
  const double least_kmh = std::ceil(3.6 * *least_ms - 1e-6);
  if (run->stands || 3.6 * run->lowest_ms() < lowest_kmh - 1e-9) {
    return Coasting{rule.strength, standing_words(passage, *run, least_kmh), true};
  }
  return Coasting{Strength::note, running_words(passage, *run, least_kmh)};
}

/// What is said of each stretch, with the stretch.
template <typename Say>
void coast_on_each(const PlanningCase& planning, const Way& way, PantographSet defective,
                   const std::vector<PowerlessStretch>& stretches, const Say& say) {
  const Rule* const rule = rule_in_force(planning.request->rules, RuleKind::coasting);
  if (rule == nullptr) {
    return;
  }
  const auto train =
      coasting_train(planning.request->train, number_of(*rule, "rotating_mass_factor").value_or(1));
  for (const PowerlessStretch& stretch : stretches) {
    const RaisedCollectors raised = raised_on(planning, way, stretch);
    if (auto coasting = coasting_on(*rule, train,
                                    {.planning = planning,
                                     .stretch = stretch,
                                     .piece = piece_reaching(planning, stretch.off_km + 1e-6),
                                     .defective = defective,
                                     .raised = raised})) {
      say(*rule, stretch, std::move(*coasting));
    }
  }
}

}  // namespace

void add_coasting_findings(const PlanningCase& planning, const Way& way, PantographSet defective,
                           const std::vector<PowerlessStretch>& stretches,
                           std::vector<PlannedSection>& sections) {
  coast_on_each(planning, way, defective, stretches,
                [&](const Rule& rule, const PowerlessStretch& stretch, Coasting coasting) {
                  const double at_km = std::max(stretch.off_km, stretch.from_km());
                  add_finding_at(planning.request->train, planning.request->route, at_km + 1e-6,
                                 finding_of(rule, coasting.strength, std::move(coasting.text)),
                                 sections);
                });
}

std::optional<CannotCoast> cannot_coast(const PlanningCase& planning, const Way& way,
                                        PantographSet defective,
                                        const std::vector<PowerlessStretch>& stretches) {
  std::optional<CannotCoast> first;
  coast_on_each(planning, way, defective, stretches,
                [&](const Rule& rule, const PowerlessStretch& stretch, Coasting coasting) {
                  const std::size_t piece = piece_reaching(planning, stretch.from_km() + 1e-6);
                  if (first || !coasting.fails || stretch.passed.size() < 2 ||
                      consent_for(consents_on(planning.request->train, planning.section(piece)),
                                  rule.id) != nullptr) {
                    return;
                  }
                  first = {piece, finding_of(rule, Strength::forbidden, std::move(coasting.text))};
                });
  return first;
}

std::vector<std::string> coasting_notes(const PlanningCase& planning,
                                        const std::vector<PowerlessStretch>& stretches) {
  std::vector<std::string> notes;
  const Rule* const rule = rule_in_force(planning.request->rules, RuleKind::coasting);
  const auto train = rule == nullptr ? std::nullopt : coasting_train(planning.request->train, 1);
  const auto note = [&](const std::string& names, const std::string& why) {
    if (!names.empty()) {
      notes.push_back(
          fmt::format("Whether the train may come to a stand without power in {} is "
                      "not checked: {}.",
                      names, why));
    }
  };
  std::string unchecked;
  std::string unknown_gradient;
  std::string turning;
  const auto add = [](std::string& names, const PowerlessStretch& stretch) {
    names += (names.empty() ? "" : ", ") + names_of(stretch);
  };
  for (const PowerlessStretch& stretch : stretches) {
    const double rear_km = stretch.off_km - length_m(planning.request->train) / 1000;
    if (!train) {
      add(unchecked, stretch);
    } else if (turns_round_on(planning, stretch)) {
      add(turning, stretch);
    } else if (!mean_gradient_permille(planning.request->route.gradients, rear_km, stretch.on_km)) {
      add(unknown_gradient, stretch);
    }
  }
  note(unchecked, rule == nullptr ? "no rule for it is in force"
                                  : "mass or running resistance is not stated for " +
                                        not_stated(planning.request->train));
  note(unknown_gradient, "the gradient under the whole train is not stated there");
  note(turning, "the train turns round there");
  return notes;
}

}  // namespace panup
