#include <algorithm>

#include "files/read_stock.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const panup::Stock stock = panup::read_stock({panup::fuzzed_source(data, size)}, diagnostics);
  panup::require_sound(diagnostics.empty(), diagnostics);
  for (const auto& vehicle : stock.vehicles) {
    for (std::size_t i = 0; i < vehicle->pantographs.size(); ++i) {
      const panup::RoofPantograph& pantograph = vehicle->pantographs[i];
      if (pantograph.type == nullptr || !(pantograph.from_cab1_m < vehicle->length_m) ||
          (i > 0 && !(pantograph.from_cab1_m - vehicle->pantographs[i - 1].from_cab1_m >= 1))) {
        panup::fail("a pantograph stands within its vehicle, apart from the one before");
      }
    }
  }
  return 0;
}
