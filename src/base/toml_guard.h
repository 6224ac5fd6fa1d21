#pragma once

#include <optional>

#include "base/source_text.h"

namespace panup {

/// How deep tables and lists may be nested in an input file.
inline constexpr int greatest_nesting = 32;

/// The first thing in a text that the TOML parser, toml++ 3.3, would not survive:
/// - brackets and parts of dotted keys nested more than `greatest_nesting` deep: what it builds
///   takes stack by depth;
/// - a character beyond ASCII outside of quotes and comments, which is no TOML either, or behind a
///   backslash that ends a line of a text in """, which is: the parser's table of white space has
///   an undefined answer for it;
/// - a quote behind something else than begins a key or a value, as in 3'é': the parser takes what
///   follows for part of the value before, where it has no answer for a character beyond ASCII.
/// Nothing if the text may be parsed; whether it is TOML is for the parser to say. The text must be
/// sound.
std::optional<Diagnostic> unfit_to_parse(const SourceText& source);

}  // namespace panup
