#include "files/read_measured_record.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto record = panup::read_measured_record(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(record.has_value(), diagnostics);
  if (!record) {
    return 0;
  }
  if (record->runs.empty() || record->pantographs.empty()) {
    panup::fail("a record has runs and pantographs");
  }
  if ((record->sampled_every_m > 0) == (record->sampled_every_s > 0)) {
    panup::fail("a record is sampled by distance or by time");
  }
  for (const panup::TensionLength& length : record->tension_lengths) {
    if (length.supports_m.size() < 2 || !(length.to_m() > length.from_m())) {
      panup::fail("a tension length has spans");
    }
  }
  return 0;
}
