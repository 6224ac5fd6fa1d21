#include "plan/landmarks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

std::string landmark_words(const NamedPlaces& places, double km) {
  const NamedPlace* nearest = nullptr;
  for (const NamedPlace& place : places.all) {
    if (metres_between(place, km) <= places.within_m &&
        (nearest == nullptr || metres_between(place, km) < metres_between(*nearest, km))) {
      nearest = &place;
    }
  }
  if (nearest == nullptr) {
    return {};
  }
  const double metres = metres_between(*nearest, km);
  if (metres <= exactly_at_m) {
    return "at " + nearest->name;
  }
  return fmt::format("{:.0f} m {} {}", metres, nearest->at_km > km ? "before" : "past",
                     nearest->name);
}

double tied_earlier(const NamedPlaces& places, double km, double not_before_km) {
  double tied = std::floor(km * 100 + 1e-6) / 100;
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

double rounded_later(double km) { return std::ceil(km * 100 - 1e-6) / 100; }

}  // namespace panup
