#pragma once

#include <string>

#include "base/source_text.h"

namespace panup {

/// A text that is not TOML, with what newcomers write put right.
struct MendedText {
  std::string text;
  Diagnostics mistakes;  ///< what was put right, each at its place; empty where nothing was
};

/// Finds what people new to TOML write, says what would be right, and puts it right, so that a
/// reader can go on and say what else is wrong with the file: a decimal comma, a unit behind a
/// number, words without quotes, yes and no, curly quotes, ':' in place of '=', comments begun by
/// '//', and paths with backslashes. Places before a mistake on its line stay what they are.
///
/// Only for a text that a parser has refused: text of several lines in quotes is looked over.
MendedText mend_toml(const SourceText& source);

}  // namespace panup
