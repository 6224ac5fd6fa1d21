#pragma once

#include "dynamics/line_grid.h"

namespace panup::validation {

/// A contact wire and a messenger wire of one length, side by side and joined by nothing, on the
/// finest stable grid of the step.
LineGrid bare_wires(const Wire& contact, const Wire& messenger, double length_m, double step_s);

/// A point on a node.
GridPoint node_point(int wire, int node);

}  // namespace panup::validation
