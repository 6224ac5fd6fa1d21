#pragma once

#include <optional>
#include <vector>

#include "base/source_text.h"
#include "stock/train.h"

namespace panup {

/// Reads a register of defective pantographs, which may be empty; nothing if anything is wrong with
/// it.
std::optional<std::vector<RegisteredDefect>> read_defects(const SourceText& source,
                                                          Diagnostics& diagnostics);

/// Gives the train the entries on its vehicles that count on the day it runs, and puts the
/// pantographs they name among the defective ones. Where the train states no single day, an entry
/// of any day counts: what is not known to be sound stays down. Reports, at its place in the
/// register, an entry for a pantograph that the vehicle does not have, or that the train file
/// orders to be up, and one for a vehicle that another class runs in the place of.
void take_up(const std::vector<RegisteredDefect>& all, Train& train, Diagnostics& diagnostics);

}  // namespace panup
