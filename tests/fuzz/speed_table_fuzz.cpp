#include "files/read_speed_table.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto job = panup::read_speed_table(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(job.has_value(), diagnostics);
  if (!job) {
    return 0;
  }
  if (job->contact_lines.empty() || job->pantographs.empty() || job->raised.empty()) {
    panup::fail("a table has lines, pantographs and numbers of them");
  }
  if ((job->raised.back() > 1) == job->distances_m.empty()) {
    panup::fail("a table has distances where more than one is raised");
  }
  for (std::size_t i = 1; i < job->distances_m.size(); ++i) {
    if (!(job->distances_m[i] > job->distances_m[i - 1])) {
      panup::fail("distances rise");
    }
  }
  if (job->distances_m.size() > panup::most_table_distances || !(job->up_to_kmh > 0)) {
    panup::fail("a table has an end");
  }
  return 0;
}
