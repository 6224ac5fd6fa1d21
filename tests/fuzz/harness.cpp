#include "harness.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

namespace panup {

void fail(const char* why) {
  std::fputs(why, stderr);
  std::fputs("\n", stderr);
  std::abort();
}

void require_sound(bool has_value, const Diagnostics& diagnostics) {
  if (has_value != diagnostics.empty()) {
    fail("a reader gives either a value or diagnostics");
  }
  for (const Diagnostic& diagnostic : diagnostics) {
    const bool one_line = std::ranges::none_of(
        to_line(diagnostic), [](char c) { return static_cast<unsigned char>(c) < 0x20; });
    if (diagnostic.text.empty() || !one_line || diagnostic.place.file.empty()) {
      fail("a diagnostic is one line of text, with its place");
    }
  }
}

}  // namespace panup
