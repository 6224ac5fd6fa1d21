#include "files/read_consents.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto source = panup::fuzzed_source(data, size);
  const auto consents = panup::read_consents(source, diagnostics);
  panup::require_sound(consents.has_value(), diagnostics);
  return 0;
}
