#include "plan/margins.h"

namespace panup {

std::vector<SectionMargins> margins_on(const PlanningCase& planning,
                                       const std::vector<PlannedSection>& sections,
                                       const MechanicsSpeeds* speeds) {
  const PlanRequest& request = *planning.request;
  std::vector<SectionMargins> margins;
  for (std::size_t i = 0; i < sections.size(); ++i) {
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
  }
  return margins;
}

}  // namespace panup
