#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "base/toml_table.h"
#include "dynamics/contact_line.h"

namespace panup {

/// The parts that a contact line is made of, as its file describes them: wires, supports, and how
/// droppers stand in a span.

inline constexpr double longest_span_m = 120;

/// A support as the file describes it: its stitch wire by length alone.
struct SupportEntry {
  Support support;
  double stitch_wire_length_m = 0;
  SourcePlace stitch_wire_place;
};

/// Droppers of a span: at stated places, or so many, evenly spread.
struct DropperPattern {
  std::vector<double> at_m;
  int number = 0;      ///< 0: at `at_m`
  double first_m = 0;  ///< of the first from its support, and of the last from the next
  Dropper dropper;
};

/// The wires of a line; without a value where one has mistakes or is not given.
struct LineWires {
  std::optional<Wire> contact;
  std::optional<Wire> messenger;
  std::optional<Wire> stitch;
  int contact_wires = 1;
  bool stitch_given = false;
  SourcePlace contact_tension;
  SourcePlace messenger_tension;
  SourcePlace stitch_place;
  SourcePlace stitch_tension;
};

/// The tables [wire.NAME] of a line.
LineWires read_line_wires(TomlTable& root, const Diagnostics& diagnostics);

SupportEntry read_support(TomlTable& table);

/// Where droppers stand is one thing, said by one key or by two: what `own`, the table by itself,
/// says of it replaces what the table that it is like says.
DropperPattern read_pattern(TomlTable& table, TomlTable own);

}  // namespace panup
