#include "files/read_what_if.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto what_if = panup::read_what_if(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(what_if.has_value(), diagnostics);
  if (!what_if) {
    return 0;
  }
  if (what_if->name.empty() ||
      (panup::files_named_by(*what_if).empty() && what_if->replaced_classes.empty())) {
    panup::fail("it has a name, and something is another way");
  }
  for (const panup::FileNamed& named : panup::files_named_by(*what_if)) {
    if (named.path.empty() || named.place.line < 1) {
      panup::fail("a file has a path and a place");
    }
  }
  for (const panup::ReplacedClass& replaced : what_if->replaced_classes) {
    if (replaced.id.empty() || replaced.by.empty() || replaced.id == replaced.by) {
      panup::fail("a class stands in the place of another one");
    }
  }
  return 0;
}
