#include "dynamics/contact_line.h"

#include <algorithm>
#include <cmath>

namespace panup {

double length_of(const ContactLine& line) {
  double length = 0;
  for (const Span& span : line.spans) {
    length += span.length_m;
  }
  return length;
}

bool states_messenger_stiffness(const ContactLine& line) {
  return std::ranges::all_of(line.supports, &Support::messenger_stiffness_stated);
}

ContactLine with_messenger_stiffness(ContactLine line, double n_per_m) {
  for (Support& support : line.supports) {
    if (!support.messenger_stiffness_stated) {
      support.messenger_stiffness_n_per_m = n_per_m;
      support.messenger_stiffness_stated = true;
    }
  }
  return line;
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
