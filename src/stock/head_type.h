#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace panup {

/// Types of collector head that the EU infrastructure register tells apart (parameters 1.1.1.2.3.1
/// and 1.1.1.2.3.2; ERA vocabulary 3.1.0, read there). Heads of one width differ in their profile
/// and horns: a line that permits one of them does not thereby permit another.
enum class HeadType : std::uint8_t {
  w1950_type_1,
  w1950_type_1_insulated_horns,
  w1950_type_2,
  w1950_pl,
  w1600_ep,
  w1600_gb,
  w1600_gb_ctrl,
  w1760_be,
  w1800_no_se,
  w2000_to_2260,
};

/// "1950 Type 1", "1950 Type 1, insulated horns", "1950 Type 2", "1950 PL", "1600 EP", "1600 GB",
/// "1600 GB CTRL", "1760 BE", "1800 NO SE", "2000 to 2260".
std::string_view name_of(HeadType type);
std::optional<HeadType> head_type_named(std::string_view name);
/// All of them, in order.
std::vector<std::string> head_type_names();

/// Between which widths a head of the type lies.
struct HeadWidths {
  double least_mm = 0;
  double greatest_mm = 0;
};
HeadWidths widths_of(HeadType type);

}  // namespace panup
