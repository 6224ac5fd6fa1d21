#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>

namespace panup {

/// What stands in the cells of tables that other programs write.

/// A number with a point, and nothing else; nothing where the text is none.
std::optional<double> number_in_cell(std::string_view text);

/// An id, of letters, digits, '-', '_' and '.'; `otherwise` where nothing is left of the text.
std::string id_from(std::string_view text, std::string_view otherwise);
/// The same, with a number behind it where it is taken.
std::string free_id_from(std::string_view text, std::string_view otherwise,
                         std::set<std::string>& taken);

/// A text for one line of a file: no control characters, and no more than 200 bytes.
std::string one_line_of(std::string_view text);

}  // namespace panup
