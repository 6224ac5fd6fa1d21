#include "plan/landmarks.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace panup {

namespace {

constexpr double exactly_at_m = 5;  ///< a place this near is where the action is

double metres_between(const NamedPlace& place, double km) {
  return 1000 * std::abs(place.at_km - km);
}

}  // namespace

NamedPlaces named_places(const Route& route, double within_m) {
  NamedPlaces places{.all = {}, .within_m = within_m};
  for (const Landmark& landmark : route.landmarks) {
    places.all.push_back({landmark.name, landmark.at_km});
  }
  for (const Stop& stop : route.stops) {
    places.all.push_back({stop.name, stop.at_km});
  }
  std::ranges::stable_sort(places.all, {}, &NamedPlace::at_km);
  return places;
}

std::string landmark_words(const NamedPlaces& places, double km, const Words& words) {
  // From a place that is behind, the driver can tell how far it is; one that is still ahead helps
  // less, however near.
  const auto rank = [km](const NamedPlace& place) {
    const double metres = metres_between(place, km);
    const int kind = metres <= exactly_at_m ? 0 : place.at_km < km ? 1 : 2;
    return std::pair(kind, metres);
  };
  const NamedPlace* best = nullptr;
  for (const NamedPlace& place : places.all) {
    if (metres_between(place, km) <= places.within_m &&
        (best == nullptr || rank(place) < rank(*best))) {
      best = &place;
    }
  }
  if (best == nullptr) {
    return {};
  }
  const auto [kind, metres] = rank(*best);
  return kind == 0   ? words.say("at {}", best->name)
         : kind == 1 ? words.say("{:.0f} m past {}", metres, best->name)
                     : words.say("{:.0f} m before {}", metres, best->name);
}

double tied_earlier(const NamedPlaces& places, double km, double not_before_km) {
  double tied = rounded_earlier(km);
  for (const NamedPlace& place : places.all) {
    if (place.at_km <= km && place.at_km > not_before_km &&
        metres_between(place, km) <= places.within_m) {
      tied = place.at_km;
    }
  }
  return tied;
}

double tied_later(const NamedPlaces& places, double km, double not_after_km) {
  for (const NamedPlace& place : places.all) {
    if (place.at_km >= km && place.at_km < not_after_km &&
        metres_between(place, km) <= places.within_m) {
      return place.at_km;
    }
  }
  return rounded_later(km);
}

double rounded_earlier(double km) { return std::floor(km * 100 + 1e-6) / 100; }

double rounded_later(double km) { return std::ceil(km * 100 - 1e-6) / 100; }

}  // namespace panup
