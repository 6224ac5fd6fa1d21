#include "demo_stock.h"
#include "files/read_train.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const panup::Stock stock = panup::demo_stock();
  panup::Diagnostics diagnostics;
  const auto source = panup::fuzzed_source(data, size);
  const auto train = panup::read_train(source, stock, diagnostics);
  panup::require_sound(train.has_value(), diagnostics);
  return 0;
}
