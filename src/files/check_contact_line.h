#pragma once

#include "base/diagnostics.h"
#include "dynamics/contact_line.h"

namespace panup {

/// Where in its file a contact line states what may be wrong with it as a whole.
struct ContactLinePlaces {
  SourcePlace contact_tension;
  SourcePlace messenger_tension;
  std::vector<SourcePlace> spans;     ///< the table that each span comes from
  std::vector<SourcePlace> pre_sags;  ///< the span's pre-sag
  std::vector<SourcePlace> droppers;  ///< what names the span's droppers, or its table
};

/// Two droppers, and a dropper and a support or a stitch wire's clamp, stand no nearer.
inline constexpr double least_dropper_distance_m = 0.5;

/// Says what is wrong with the parts of a line together: stitch wires that overlap or are clamped
/// at a dropper, wires that sag more than the encumbrance, and what keeps it from hanging at rest:
/// pre-sag that no droppers give it, droppers that would have to push. The parts are right in
/// themselves.
void check_contact_line(const ContactLine& line, const ContactLinePlaces& places,
                        Diagnostics& diagnostics);

}  // namespace panup
