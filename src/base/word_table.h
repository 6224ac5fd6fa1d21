#pragma once
/// How a table of words is kept. Used by `words.cpp` and `read_words.cpp` alone.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>

#include "base/words.h"

namespace panup {

/// What a pattern is in a language: one form, or one for each plural category that differs.
struct WordEntry {
  std::string other;
  std::map<std::string, std::string, std::less<>> further = {};  ///< by CLDR's category
};

class WordTable {
 public:
  std::string language;
  char decimal_sign = '.';
  std::string sha256;  ///< of the file's bytes

  const WordEntry* find(std::string_view key) const {
    const auto found = entries.find(std::string(key));
    return found == entries.end() ? nullptr : &found->second;
  }
  /// CLDR's plural category of a number in the language: "one", "few", "other", …
  std::string form_of(std::size_t number) const;

  std::unordered_map<std::string, WordEntry> entries;
  std::map<std::size_t, std::string> known_forms;  ///< as `plural_forms` gives them
};

/// The plural categories of the numbers below 200; those of a language hang on the last two digits.
/// Of a language that ICU does not know: all `other`.
std::map<std::size_t, std::string> plural_forms(const std::string& language);

/// A table that is built into the program.
struct BuiltInWords {
  std::string_view language;
  std::string_view file;
  std::string_view text;
};
std::span<const BuiltInWords> built_in_word_files();

}  // namespace panup
