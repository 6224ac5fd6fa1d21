#pragma once

#include <optional>

#include "base/source_text.h"

namespace panup {

/// How deep tables and lists may be nested in an input file.
inline constexpr int greatest_nesting = 32;

/// Where a text nests brackets and the parts of dotted keys more than `greatest_nesting` deep;
/// nothing where it does not. Looks at characters alone, over strings and comments, before anything
/// is parsed: a parser, and whatever it builds, takes stack by the depth of the text. Where the
/// text is no TOML it leaves that to the parser. The text must be sound.
std::optional<SourcePlace> first_deep_nesting(const SourceText& source);

}  // namespace panup
