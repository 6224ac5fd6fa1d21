#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plan/make_plan.h"
#include "plan/whereabouts.h"

namespace panup {

/// What may happen to the configuration where a piece of route begins.
enum class Passage : std::uint8_t {
  joined,       ///< nothing: the same pantographs stay up
  standstill,   ///< the train stands; any change
  lowered,      ///< all have been down; others may go up
  on_the_move,  ///< at a marked place; new ones up before the old ones come down
};

/// A piece of route within which nothing that matters changes: one section, iced or not, one
/// direction, pantographs up or down, entered in one way.
struct Piece {
  double from_km = 0;
  double to_km = 0;
  std::size_t section = 0;
  bool iced = false;
  bool reversed = false;
  bool lowered = false;
  std::string lowered_for;  ///< the name of the stretch that asks for pantographs down
  Leg leg = {};
  /// Other pantographs may be up than came with the train, while some of it is still under the wire
  /// of another section: each has to be looked at where it is.
  bool tail_matters = false;
  Passage entry = Passage::joined;
  double change_room_km = 0;  ///< entered on the move: where a change has to be over, from there
  std::string entry_place;    ///< stop or landmark, where there is one
  bool entered_reversed = false;  ///< the train turned round here
  /// Separation sections, passed with pantographs up, that some of the train is in while its front
  /// is on the piece: indices into `Route::separations`.
  std::vector<std::size_t> separations;
  /// Low places that some of the train is under, likewise: indices into `Route::low_places`.
  std::vector<std::size_t> low_places = {};

  double length_m() const { return 1000 * (to_km - from_km); }
};

/// The times that orders leave to driver and breaker, from the rule book.
struct DriverTimes {
  double reaction_s = 0;
  double breaker_s = 0;
  double landmark_within_m = 0;  ///< an action is tied to a landmark no farther away than this
  double least_gain_kmh = 0;     ///< by which a higher speed between two lower ones is of use
};
DriverTimes driver_times(const RuleBook& rules);

/// Cuts the route into pieces.
std::vector<Piece> cut_into_pieces(const PlanRequest& request,
                                   const std::vector<PowerlessZone>& zones,
                                   std::vector<std::string>& notes);

}  // namespace panup
