#include "bare_wires.h"

#include <stdexcept>

namespace panup::validation {

LineGrid bare_wires(const Wire& contact, const Wire& messenger, double length_m, double step_s) {
  ContactLine line;
  line.contact_wire = contact;
  line.messenger_wire = messenger;
  Span span;
  span.length_m = length_m;
  line.spans = {span};
  line.supports.resize(2);
  StaticState state;
  state.contact_tension_n = contact.tension_n;
  state.messenger_tension_n = messenger.tension_n;
  auto grid = make_grid(line, state, step_s, 0);
  if (const auto* refusal = std::get_if<Sentence>(&grid)) {
    throw std::logic_error(refusal->said());
  }
  return std::get<LineGrid>(grid);
}

GridPoint node_point(int wire, int node) { return {wire, node, {1, 0, 0, 0}}; }

}  // namespace panup::validation
