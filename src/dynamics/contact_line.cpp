#include "dynamics/contact_line.h"

#include <cmath>

namespace panup {

double length_of(const ContactLine& line) {
  double length = 0;
  for (const Span& span : line.spans) {
    length += span.length_m;
  }
  return length;
}

std::vector<double> support_positions(const ContactLine& line) {
  std::vector<double> positions{0};
  for (const Span& span : line.spans) {
    positions.push_back(positions.back() + span.length_m);
  }
  return positions;
}

Wire combined_contact_wire(const ContactLine& line) {
  Wire wire = line.contact_wire;
  const double count = line.contact_wires;
  wire.tension_n *= count;
  wire.mass_kg_per_m *= count;
  wire.bending_stiffness_nm2 *= count;
  wire.axial_stiffness_n *= count;
  return wire;
}

double wave_speed(const Wire& wire) { return std::sqrt(wire.tension_n / wire.mass_kg_per_m); }

}  // namespace panup
