#pragma once
/// Where the train stands, its auxiliaries draw through the raised pantographs, and each of them
/// heats one point of the wire. Looks at departure, every stop and arrival; on DC what is enough
/// for running is often too little for standing.

#include <string>
#include <vector>

#include "plan/stands.h"

namespace panup {

/// Pantographs that go up for the stand alone, and come down again before departure.
struct StandHelp {
  std::size_t piece = 0;  ///< the one that the train enters from the stand; their number on arrival
  PantographSet raised;
  std::string because;
};

/// What is to be said of a place.
struct PlacedFinding {
  double at_km = 0;
  Finding finding;
};

/// What a vehicle may draw while the train stands, where it could draw more.
struct StandLimit {
  double at_km = 0;
  std::size_t piece = 0;  ///< whose line the train stands under
  int vehicle = 0;
  double current_a = 0;
  std::string because;
};

struct StandCurrents {
  std::vector<StandHelp> helps;         ///< in order along the way
  std::vector<StandLimit> limits;       ///< in order along the way
  std::vector<PlacedFinding> findings;  ///< in order along the way
  std::vector<std::string> notes;       ///< what was not checked
};

/// Holds every stand but those at signals against the rule of kind `standstill_current` that is in
/// force. Where what is up does not carry what a vehicle draws at a stand, further pantographs of
/// it that fit there and are sound go up while it stands, but for one that would make a facing pair
/// or expose a load. Where that is not enough, the finding says how much may be drawn. Nothing more
/// goes up where the train stands over a separation section.
StandCurrents check_stand_currents(const PlanningCase& planning, const std::vector<Stand>& stands,
                                   PantographSet defective);

}  // namespace panup
