#include <cmath>

#include "files/read_route.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto route = panup::read_route(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(route.has_value(), diagnostics);
  for (std::size_t i = 0; route && i < route->sections.size(); ++i) {
    const panup::Section& section = route->sections[i];
    if (!(section.to_km > section.from_km) || !(section.line_speed_kmh > 0) ||
        (i > 0 && !(std::abs(section.from_km - route->sections[i - 1].to_km) < 1e-5))) {
      panup::fail("sections have a length and a speed, and join");
    }
  }
  return 0;
}
