#include "demo_stock.h"
#include "files/read_conditions.h"
#include "files/read_route.h"
#include "harness.h"

namespace {

panup::Route demo_route() {
  panup::Diagnostics diagnostics;
  auto route = panup::read_route(panup::data_file("demo/routes/harl-port-selmo.toml"), diagnostics);
  panup::require_sound(route.has_value(), diagnostics);
  return std::move(*route);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const panup::Route route = demo_route();
  const auto source = panup::fuzzed_source(data, size);
  for (const panup::Route* const known : {static_cast<const panup::Route*>(nullptr), &route}) {
    panup::Diagnostics diagnostics;
    const auto conditions = panup::read_conditions(source, known, diagnostics);
    panup::require_sound(conditions.has_value(), diagnostics);
    for (std::size_t i = 0; conditions && i < conditions->ice.size(); ++i) {
      if (!(conditions->ice[i].to_km > conditions->ice[i].from_km) ||
          (i > 0 && !(conditions->ice[i].from_km > conditions->ice[i - 1].to_km))) {
        panup::fail("stretches of ice have a length, rise, and do not touch");
      }
    }
  }
  return 0;
}
