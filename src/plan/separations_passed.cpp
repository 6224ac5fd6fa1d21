#include "plan/separations_passed.h"

#include <set>
#include <utility>

namespace panup {

std::vector<SeparationMoment> moments_on(const PlanningCase& planning, const Way& way) {
  std::vector<SeparationMoment> moments;
  std::set<std::pair<std::size_t, PantographSet>> seen;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    const bool passes_raised =
        !way.raised[i].value_or(PantographSet{}).empty() && planning.lowered_speed_kmh[i] == 0;
    for (const std::size_t separation : planning.pieces[i].separations) {
      const Route& route = planning.request->route;
      if (passes_raised && !route.separations[separation].zones.empty() &&
          seen.emplace(separation, *way.raised[i]).second) {
        moments.push_back(separation_moment(planning.request->rules, route, separation,
                                            planning.judge(i).train(), *way.raised[i]));
      }
    }
  }
  return moments;
}

}  // namespace panup
