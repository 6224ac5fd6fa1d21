#include "plan/coasting_findings.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "judging/facts/coasting.h"
#include "judging/facts/train_collectors.h"
#include "judging/separation_rule.h"
#include "line/gradients.h"
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

/// Where the rear of the train is when the breaker opens.
double rear_km(const PlanningCase& planning, const PowerlessStretch& stretch) {
  return stretch.off_km - length_m(planning.request->train) / 1000;
}

/// Whether the train turns round where its length or the stretch reaches: the gradient under it is
/// then not that of the chainage behind its front.
bool turns_round_on(const PlanningCase& planning, const PowerlessStretch& stretch) {
  return std::ranges::any_of(planning.request->route.stops, [&](const Stop& stop) {
    return stop.reversal && rear_km(planning, stretch) < stop.at_km && stop.at_km < stretch.on_km;
  });
}

/// What of the train does not state what it runs on by.
std::string not_stated(const Train& train, const Words& words) {
  std::string names;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    const RunningData& data =
        vehicle != nullptr ? vehicle->type->running : std::get<LoadGroup>(item).running;
    if (data.mass_t && data.resistance) {
      continue;
    }
    names +=
        (names.empty() ? "" : ", ") + (vehicle != nullptr ? words.say("vehicle {}", vehicle->number)
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

/// Why it is not known how the train runs through the stretch; empty where it is.
std::string not_known_because(const PlanningCase& planning, const PowerlessStretch& stretch,
                              bool train_known, std::span<const Gradient> gradients) {
  if (!train_known) {
    return planning.words().say("mass or running resistance is not stated for {}",
                                not_stated(planning.request->train, planning.words()));
  }
  if (turns_round_on(planning, stretch)) {
    return planning.words().say("the train turns round there");
  }
  const auto gaps = without_gradient(gradients, rear_km(planning, stretch), stretch.on_km);
  return gaps.empty()
             ? std::string()
             : planning.words().say(
                   "no gradient is stated from {}, where the train is over it from breaker "
                   "off to breaker on",
                   words_for(gaps, planning.words()));
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
  const auto& stated = planning.request->route.gradients;
  const auto reckoned_permille = number_of(rule, "gradient_not_stated_permille");
  const std::vector<Gradient> gradients =
      reckoned_permille
          ? filled_up(stated, rear_km(planning, stretch), stretch.on_km, *reckoned_permille)
          : stated;
  if (const std::string why = not_known_because(planning, stretch, train.has_value(), gradients);
      !why.empty()) {
    return Coasting{rule.strength, not_known_words(passage, why)};
  }
  const std::string reckoned_words =
      gradients.size() > stated.size()
          ? planning.words().say(
                " Where no gradient is stated, {:g} per mille uphill is reckoned with.",
                *reckoned_permille)
          : std::string();
  const double lowest_kmh = number_of(rule, "lowest_speed_kmh").value_or(0);
  const auto run = coast(*train, gradients, stretch.off_km, stretch.on_km, stretch.speed_kmh / 3.6);
  const auto least_ms =
      least_entry_ms(*train, gradients, stretch.off_km, stretch.on_km, lowest_kmh / 3.6);
  if (!run || !least_ms) {
    return std::nullopt;
  }
  const double least_kmh = std::ceil(3.6 * *least_ms - 1e-6);
  if (run->stands || 3.6 * run->lowest_ms() < lowest_kmh - 1e-9) {
    return Coasting{rule.strength, standing_words(passage, *run, least_kmh) + reckoned_words, true};
  }
  return Coasting{Strength::note, running_words(passage, *run, least_kmh) + reckoned_words};
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
                  add_finding_at(*planning.request, at_km + 1e-6,
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
  if (rule_in_force(planning.request->rules, RuleKind::coasting) != nullptr || stretches.empty()) {
    return {};
  }
  std::vector<std::string> names;
  for (const PowerlessStretch& stretch : stretches) {
    names.push_back(names_of(stretch, planning.words()));
  }
  return {planning.words().say(
      "Whether the train may come to a stand without power in {} is not checked: no rule for it is "
      "in force.",
      fmt::to_string(fmt::join(names, ", ")))};
}

}  // namespace panup
