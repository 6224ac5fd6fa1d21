#include <cmath>

#include "files/check_contact_line.h"
#include "files/read_contact_line.h"
#include "harness.h"

namespace {

bool hangs_apart(const panup::Span& span) {
  double from = 0;
  for (const panup::Dropper& dropper : span.droppers) {
    // Places spread evenly are sums: they may miss the least distance by rounding.
    if (!(dropper.at_m - from >= panup::least_dropper_distance_m - 1e-9)) {
      return false;
    }
    from = dropper.at_m;
  }
  return span.length_m - from >= panup::least_dropper_distance_m - 1e-9;
}

void require_sound_line(const panup::ContactLine& line) {
  if (line.spans.empty() || line.spans.size() > 500 ||
      line.supports.size() != line.spans.size() + 1) {
    panup::fail("a line has 1 to 500 spans, and one support more");
  }
  for (const panup::Span& span : line.spans) {
    if (!(span.length_m >= 5 && span.length_m <= 120) || !hangs_apart(span)) {
      panup::fail("droppers stand within their span, apart from each other and from supports");
    }
  }
  if (line.supports.front().stitch_wire || line.supports.back().stitch_wire) {
    panup::fail("no stitch wire is fitted at the ends of a line");
  }
  for (const panup::Wire& wire : {line.contact_wire, line.messenger_wire}) {
    if (!(std::isfinite(panup::wave_speed(wire)) && panup::wave_speed(wire) > 0)) {
      panup::fail("waves run along a wire");
    }
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto line = panup::read_contact_line(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(line.has_value(), diagnostics);
  if (line) {
    require_sound_line(*line);
  }
  return 0;
}
