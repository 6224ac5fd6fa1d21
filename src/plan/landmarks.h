#pragma once

#include <string>
#include <vector>

#include "line/route.h"

namespace panup {

/// A stop or landmark, as a place that the driver can see.
struct NamedPlace {
  std::string name;
  double at_km = 0;
};

/// The places of a route by chainage, and how far from one an action may still be tied to it.
struct NamedPlaces {
  std::vector<NamedPlace> all;
  double within_m = 0;
};

NamedPlaces named_places(const Route& route, double within_m);

/// "at X", "120 m past X", or "300 m before X" where none is near enough behind; empty if none is
/// near enough at all.
std::string landmark_words(const NamedPlaces& places, double km, const Words& words = {});

/// Where to order what must not be done later than `km`: the last near place at or before it and
/// behind `not_before_km`, else `km` rounded down to 10 m.
double tied_earlier(const NamedPlaces& places, double km, double not_before_km);

/// Where to order what must not be done before `km`: the first near place at or behind it and
/// before `not_after_km`, else `km` rounded up to 10 m.
double tied_later(const NamedPlaces& places, double km, double not_after_km);

/// Rounded down to 10 m, and up.
double rounded_earlier(double km);
double rounded_later(double km);

}  // namespace panup
