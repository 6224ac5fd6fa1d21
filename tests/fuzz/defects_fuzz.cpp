#include "files/read_defects.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto all = panup::read_defects(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(all.has_value(), diagnostics);
  if (!all) {
    return 0;
  }
  for (const panup::RegisteredDefect& defect : *all) {
    if (defect.vehicle.empty() || defect.pantograph < 1 || defect.since.size() != 10 ||
        (!defect.until.empty() && defect.until < defect.since)) {
      panup::fail("an entry is for a pantograph and for days");
    }
  }
  return 0;
}
