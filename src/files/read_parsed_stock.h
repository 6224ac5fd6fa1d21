#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/toml_tree.h"
#include "files/read_stock.h"

namespace panup {

/// A stock file that is parsed, or put together from something else.
struct ParsedStock {
  std::string file;
  std::optional<TomlNode> root;  ///< none: it could not be parsed, which has been reported
};

/// `read_stock` of parsed files.
Stock read_parsed_stock(const std::vector<ParsedStock>& parsed, Diagnostics& diagnostics,
                        PantographTypes types = PantographTypes::among_these);

}  // namespace panup
