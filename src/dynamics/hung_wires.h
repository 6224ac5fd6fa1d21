#pragma once

#include <vector>

#include "dynamics/beam_system.h"
#include "dynamics/wire_layout.h"

namespace panup {

/// Wires with the tensions and loads of one state.
struct Wires {
  Wire contact;
  Wire messenger;
  double contact_load = 0;
  double messenger_load = 0;
  double ice_on_stitch_kg_per_m = 0;
};

/// The messenger wire and the stitch wires clamped to it, in a system.
struct Upper {
  BeamNodes messenger;
  std::vector<BeamNodes> stitches;  ///< by support; without nodes where there is none
};

Upper add_upper(BeamSystem& system, const ContactLine& line, const WireLayout& layout,
                const Wires& wires);

int lift_at(const BeamNodes& wire, double at_m);

/// Of the wire that a dropper hangs from, at the dropper.
int hanging_lift(const Upper& upper, const HungDropper& hung);

}  // namespace panup
