#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "base/toml_outline.h"
#include "files/document.h"

namespace panup {

/// A list of tables whose entries stand elsewhere than before: which of the old ones each is, or
/// that it is new.
struct ArrangedList {
  TomlPath list;
  std::vector<std::optional<std::size_t>> from;
};

/// A file that a person changes where it says where its values come from.
struct ChangedByHand {
  SourceText before;
  SourceText after;
  FileKind kind{};
  std::vector<ArrangedList> arranged = {};  ///< entries of lists that are not here stay in place
  std::string day;                          ///< YYYY-MM-DD
};

/// The text after the change, in which no value that the person gave is said to come from where the
/// old one came from: its key is of a source "by hand" of that day, in `source_of`. So is a table
/// that is new. A source of a key that is gone goes with it, and what never had a source gets none.
/// All else stays to the byte. Nothing, and why, where the text cannot be changed so.
std::optional<std::string> mark_by_hand(const ChangedByHand& changed, Diagnostics& diagnostics);

}  // namespace panup
