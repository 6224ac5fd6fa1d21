#pragma once

#include <string>

#include "dynamics/contact_line.h"
#include "dynamics/pantograph_model.h"
#include "dynamics/simulate.h"

namespace panup {

/// An invented auto-tensioned line of equal spans of 50 m, five droppers each, wires without
/// bending stiffness, no damping and no pre-sag.
ContactLine sample_line(int spans);

/// The same with steady arms that push, masses at the supports, clamps and bending wires: every
/// part that a line can have but stitch wires.
ContactLine sample_line_with_everything(int spans);

/// Gives every inner support a stitch wire of 14 m, and droppers that hang from it.
void add_stitch_wires(ContactLine& line);

/// An invented pantograph of two masses, without aerodynamic force.
PantographModel sample_pantograph();

/// One pantograph with 80 N on the line, which must outlive the request.
SimulationRequest sample_request(const ContactLine& line, double speed_kmh);

/// Another pantograph like the first.
void add_pantograph(SimulationRequest& request, double behind_first_m);

/// Why the run is refused, a line a reason; empty if it is not.
std::string refusal_of(const SimulationRequest& request);

}  // namespace panup
