#pragma once

#include <optional>

#include "base/source_text.h"

namespace panup {

/// How deep tables and lists may be nested in an input file.
inline constexpr int greatest_nesting = 32;

/// What a text must not hold when it is handed to the TOML parser, because the parser itself would
/// not survive it: brackets and parts of dotted keys nested more than `greatest_nesting` deep (it
/// takes stack by depth), and a table header that does not begin with a key (it takes one for
/// granted). Nothing if the text may be parsed. Looks at characters alone, over strings and
/// comments; where the text is no TOML for another reason it leaves that to the parser. The text
/// must be sound.
std::optional<Diagnostic> unfit_to_parse(const SourceText& source);

}  // namespace panup
