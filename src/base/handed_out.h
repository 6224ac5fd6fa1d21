#pragma once
/// What every file that is handed out carries or is made from.

#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"

namespace panup {

/// A file that a result was made from.
struct InputFile {
  /// "train", "route", "conditions", "rule book", "stock", "contact line", "pantograph model",
  /// "consents", "defects"
  std::string role;
  std::string path;
  std::string sha256 =
      {};  ///< of the bytes that were read, 64 hexadecimal digits; empty: not taken
};

/// A file ready to be written.
struct RenderedFile {
  std::string name;
  std::string bytes;
};

/// The mark that goes on whatever shows demo data.
inline constexpr std::string_view invented_mark = "DEMO – invented data";

/// The mark in another language.
std::string invented_words(const Words& words);

/// The cautions that belong on everything handed out: on a plan, or on what `thing` says: "card",
/// "table", "result", "comparison".
std::vector<std::string> cautions(std::string_view thing = "plan", const Words& words = {});

}  // namespace panup
