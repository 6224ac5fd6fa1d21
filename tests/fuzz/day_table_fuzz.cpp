#include "day_rows_checks.h"
#include "files/day_rows.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  panup::DayNumbers numbers;
  std::vector<panup::DayTrain> trains;
  panup::read_day_table(panup::fuzzed_source(data, size), numbers, trains, diagnostics);
  panup::require_sound(diagnostics.empty(), diagnostics);
  if (diagnostics.empty()) {
    panup::require_usable(trains);
  }
  return 0;
}
