#include "comparison/compare_plans.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto said = panup::read_plan_json(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(said.has_value(), diagnostics);
  if (said) {
    const auto comparison = panup::compare_plans(*said, *said, "2031-05-30");
    for (const panup::PlanChange& change : comparison.changes) {
      if (change.text.empty()) {
        panup::fail("a change is told in words");
      }
      if (change.ends_it && change.what != "answer" && change.what != "validity") {
        panup::fail("a plan says what it says itself");
      }
    }
  }
  return 0;
}
