#include <cmath>

#include "files/read_network.h"
#include "harness.h"
#include "line/compose_route.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto network = panup::read_network(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(network.has_value(), diagnostics);
  if (!network) {
    return 0;
  }
  for (const panup::NetworkWay& way : network->ways) {
    panup::Diagnostics of_way;
    const auto composed =
        panup::compose_route(*network, way, panup::turns_of(*network, way), of_way);
    if (composed.has_value() == !of_way.empty()) {
      panup::fail("a way is a route, or something is wrong with it");
    }
    for (std::size_t i = 0; composed && i < composed->route.sections.size(); ++i) {
      const panup::Section& section = composed->route.sections[i];
      const double begins = i == 0 ? section.from_km : composed->route.sections[i - 1].to_km;
      if (!(section.to_km > section.from_km) || !(std::abs(section.from_km - begins) < 1e-5)) {
        panup::fail("sections of a way have a length, and join");
      }
    }
  }
  return 0;
}
