#include "plan/margins.h"

namespace panup {

namespace {

bool differ_by_order(const PlannedSection& a, const PlannedSection& b) {
  return a.section == b.section && a.raised == b.raised && a.iced == b.iced &&
         a.reversed == b.reversed && a.lowered_for == b.lowered_for &&
         a.permitted_speed_kmh == b.permitted_speed_kmh;
}

std::optional<SpacingLimit> limit_by_tables(const Judge& judge, const Section& section,
                                            PantographSet raised) {
  const Verdict verdict = judge.judge(judge.ground(section, false), raised, {});
  return verdict.spacing_rule == nullptr
             ? std::nullopt
             : std::optional(SpacingLimit{verdict.spacing_speed_kmh, verdict.spacing_rule->id});
}

}  // namespace

std::vector<SectionMargins> margins_on(const PlanningCase& planning,
                                       const std::vector<PlannedSection>& sections,
                                       MechanicsSpeeds* speeds) {
  const PlanRequest& request = *planning.request;
  std::vector<SectionMargins> margins;
  for (std::size_t next = 0; next < sections.size();) {
    // Of what is only cut where a lower speed is ordered, the fastest is looked at.
    std::size_t i = next;
    while (++next < sections.size() && differ_by_order(sections[i], sections[next])) {
      i = sections[next].speed_kmh > sections[i].speed_kmh ? next : i;
    }
    const PlannedSection& planned = sections[i];
    if (planned.raised.empty()) {
      continue;
    }
    const RunningTrain& train = planning.judges[planned.reversed ? 1 : 0].train();
    const PantographSet raised = set_of(train, planned.raised);
    const Section& section = request.route.sections[planned.section];
    margins.push_back(
        {.planned = i,
         .currents = current_loads(request.rules, train, section, raised),
         .lateral =
             lateral_margins(request.rules, request.conditions.wind_ms, train, section, raised),
         .forces = speeds == nullptr || planned.iced
                       ? std::nullopt
                       : speeds->forces_of(train, section, raised, planned.speed_kmh)});
    if (auto& forces = margins.back().forces) {
      forces->by_tables =
          limit_by_tables(planning.judges[planned.reversed ? 1 : 0], section, raised);
    }
  }
  return margins;
}

}  // namespace panup
