#pragma once

#include <optional>

#include "base/source_text.h"
#include "files/document.h"
#include "line/network.h"

namespace panup {

/// Reads a network. Nothing, and at least one diagnostic, if anything is wrong with it.
std::optional<Network> read_network(const SourceText& source, Diagnostics& diagnostics);

/// The parts of a way, a list of `{ line, to }` under a key; of one of which nothing can be read
/// that has been said.
std::vector<WayLeg> read_way_legs(TomlTable& table, std::string_view key, Need need);

}  // namespace panup
