#pragma once
/// Wear of contact strips, as a comparison between configurations. No life is predicted.
///
/// Rubbing: the volume worn off per distance goes with force over hardness (J. F. Archard, Contact
/// and Rubbing of Flat Surfaces, 1953), so with the sum of the forces. Heating by current: the heat
/// in a contact is I² R with R falling as 1/√F (R. Holm, Electric Contacts), so per distance it
/// goes with I²/(v √F). Both from memory of the named works. How the two weigh against each other
/// hangs on strip, wire and weather, and is not known here; so they are given apart. Arcs are not
/// in it.

#include <span>

namespace panup {

/// What one pantograph's strips bear on one kind of wire.
struct StripLoad {
  double force_n = 0;    ///< mean contact force, above 0
  double current_a = 0;  ///< while running
  double speed_kmh = 0;  ///< above 0
};

/// Wear per distance of all strips together, as multiples of another configuration's.
struct RelativeWear {
  double rubbing = 1;
  double heating = 1;
};

/// `these` against `those`, both not empty. Where those carry no current, heating is 1.
RelativeWear relative_wear(std::span<const StripLoad> these, std::span<const StripLoad> those);

}  // namespace panup
