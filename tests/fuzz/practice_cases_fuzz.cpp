#include "files/read_practice_cases.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto cases = panup::read_practice_cases(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(cases.has_value(), diagnostics);
  if (!cases) {
    return 0;
  }
  if (cases->name.empty() || cases->source.en.empty() || cases->cases.empty()) {
    panup::fail("cases have a name, a source, and are not none");
  }
  for (const panup::FileNamed& named : panup::files_named_by(*cases)) {
    if (named.path.empty() || named.place.line < 1) {
      panup::fail("a file has a path and a place");
    }
  }
  for (const panup::PracticeCase& one : cases->cases) {
    if (one.id.empty() || one.of.size() < 2 || one.title.en.empty() || one.title.de.empty() ||
        one.raised.size() < 2 || one.speed_kmh.has_value() == one.speed_rule.empty()) {
      panup::fail("a case has an id, a number and titles, says what is up, and by what rule fast");
    }
  }
  return 0;
}
