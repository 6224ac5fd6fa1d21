#include "quality/speed_curve.h"

#include <utility>

namespace panup {

namespace {

SpeedQuestion at_distance(const SpeedCurveRequest& request, double distance_m) {
  SpeedQuestion question = request.question;
  std::vector<RunningPantograph>& pantographs = question.pantographs;
  const double by_m = pantographs[request.drawn_at - 1].behind_first_m + distance_m -
                      pantographs[request.drawn_at].behind_first_m;
  for (std::size_t i = request.drawn_at; i < pantographs.size(); ++i) {
    pantographs[i].behind_first_m += by_m;
  }
  return question;
}

}  // namespace

bool draw_speed_curve(const SpeedCurveRequest& request, const RunSource& runs,
                      const SpeedCurvePointKnown& known) {
  for (const double distance : request.distances_m) {
    auto permitted = speeds_at_first_sight({at_distance(request, distance)}, *request.rules, runs);
    if (!permitted) {
      return false;
    }
    known({distance, std::move(permitted->front()), true});
  }
  const double stands = request.distances_m.front();
  auto permitted = permitted_speeds({at_distance(request, stands)}, *request.rules, runs);
  if (!permitted) {
    return false;
  }
  add_static_force_warnings(permitted->front(), request.question);
  known({stands, std::move(permitted->front()), false});
  return true;
}

}  // namespace panup
