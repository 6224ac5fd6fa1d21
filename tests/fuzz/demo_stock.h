#pragma once

#include <string>

#include "files/read_stock.h"
#include "harness.h"

namespace panup {

/// A file of the data folder, which must be there.
inline SourceText data_file(const std::string& name) {
  Diagnostics diagnostics;
  auto source = load_text(PANUP_DATA_FOLDER + ("/" + name), diagnostics);
  if (!source) {
    fail(to_line(diagnostics.front()).c_str());
  }
  return std::move(*source);
}

inline Stock demo_stock() {
  Diagnostics diagnostics;
  Stock stock =
      read_stock({data_file("demo/stock/pantographs.toml"), data_file("demo/stock/vehicles.toml")},
                 diagnostics);
  require_sound(true, diagnostics);
  return stock;
}

}  // namespace panup
