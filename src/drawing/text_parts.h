#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/handed_out.h"

namespace panup {

/// What text for a terminal has in common.

/// Columns it takes at most.
inline constexpr std::size_t text_columns = 100;

/// "Petrol to Varn (t07)"; the name alone where it is the id.
std::string with_id(const std::string& name, const std::string& id);

/// What is said under a name, with the name in front: at the head of a text.
std::string fact_line(std::string_view name, std::string_view text);

/// A blank line, the heading and a list; nothing for an empty one.
std::string text_list(std::string_view heading, const std::vector<std::string>& lines);

/// The input files by their roles, and the program's version if it is given.
std::string made_from(const std::vector<InputFile>& inputs, const std::string& program_version,
                      const Words& words = {});

}  // namespace panup
