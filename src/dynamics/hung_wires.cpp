#include "dynamics/hung_wires.h"

#include "base/gravity.h"

namespace panup {

Upper add_upper(BeamSystem& system, const ContactLine& line, const WireLayout& layout,
                const Wires& wires) {
  Upper upper;
  upper.messenger = system.add_wire(wires.messenger, wires.messenger_load, layout.messenger_places);
  upper.stitches.resize(layout.supports.size());
  for (std::size_t support = 0; support < layout.supports.size(); ++support) {
    if (!has_stitch_wire(line, support)) {
      continue;
    }
    const StitchWire& stitch = *line.supports[support].stitch_wire;
    const double from = layout.supports[support] - stitch.length_m / 2;
    const double to = from + stitch.length_m;
    std::vector<double> places{from, to};
    for (const HungDropper& hung : layout.droppers) {
      if (hung.stitch == static_cast<int>(support)) {
        places.push_back(hung.at_m);
      }
    }
    sort_places(places);
    upper.stitches[support] = system.add_wire(
        stitch.wire, gravity_ms2 * (stitch.wire.mass_kg_per_m + wires.ice_on_stitch_kg_per_m),
        places, upper.messenger.lift[node_at(upper.messenger, from)],
        upper.messenger.lift[node_at(upper.messenger, to)]);
  }
  return upper;
}

int lift_at(const BeamNodes& wire, double at_m) { return wire.lift[node_at(wire, at_m)]; }

int hanging_lift(const Upper& upper, const HungDropper& hung) {
  return hung.stitch < 0
             ? lift_at(upper.messenger, hung.at_m)
             : lift_at(upper.stitches[static_cast<std::size_t>(hung.stitch)], hung.at_m);
}

}  // namespace panup
