#pragma once
/// What the program says, in the language that was asked for.
///
/// English stands in the code. What is said there, as a pattern with its arguments, is the key
/// under which a table has the pattern of another language: `words.say("Raise {}", list)`. A table
/// is a file (`data/words/de.toml`); a further language is a further file. What a table does not
/// have is said in English, so that nothing is ever left out.

#include <fmt/format.h>

#include <concepts>
#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostics.h"
#include "base/source_text.h"

namespace panup {

/// A number with a fraction, to be written with a language's decimal sign.
struct Decimal {
  double value = 0;
  char sign = '.';
};

/// The patterns of one language.
class WordTable;

/// A language: a cheap handle on its table, which is never changed. English has none.
class Words {
 public:
  Words() = default;
  explicit Words(std::shared_ptr<const WordTable> table) : table_(std::move(table)) {}

  /// As BCP 47 writes it: "en", "de".
  std::string_view language() const;

  /// What the pattern says of the arguments. The decimal sign of numbers is the language's, however
  /// they are formatted.
  template <typename... Arguments>
  std::string say(fmt::format_string<const Arguments&...> pattern,
                  const Arguments&... arguments) const {
    const fmt::string_view english = pattern;
    return said(english, english, arguments...);
  }

  /// The same of so many: `one` where it is a single thing, else `several`. Both have the same
  /// arguments; a language with more forms than English has them under `several`.
  template <typename... Arguments>
  std::string say_of(std::size_t number, fmt::format_string<const Arguments&...> one,
                     fmt::format_string<const Arguments&...> several,
                     const Arguments&... arguments) const {
    const fmt::string_view key = several;
    const fmt::string_view single = one;
    return table_ == nullptr ? said(number == 1 ? single : key, key, arguments...)
                             : said_of(number, single, key, arguments...);
  }

  /// A name or a text without arguments that stands elsewhere: of an energy supply system, a rule's
  /// reason. As it is where the table has nothing for it.
  std::string named(std::string_view text) const;

  /// "A", "A and B", "A, B and C"; empty for none.
  std::string listed(const std::vector<std::string>& items) const;
  /// The same where one of them counts.
  std::string listed_or(const std::vector<std::string>& items) const;

  /// '.' or ','
  char decimal_sign() const;

  /// Of all that the table says, 64 hexadecimal digits: two tables of one language differ in it.
  /// Empty of English.
  std::string_view sha256() const;

  friend bool operator==(const Words& a, const Words& b) { return a.language() == b.language(); }

 private:
  template <typename Argument>
  static decltype(auto) written(const Argument& argument, [[maybe_unused]] char sign) {
    if constexpr (std::floating_point<Argument>) {
      return Decimal{static_cast<double>(argument), sign};
    } else {
      return (argument);
    }
  }
  template <typename... Arguments>
  std::string said(fmt::string_view english, fmt::string_view key,
                   const Arguments&... arguments) const {
    if (table_ == nullptr) {
      return fmt::vformat(english, fmt::make_format_args(arguments...));
    }
    return in_table(pattern_for({key.data(), key.size()}, {english.data(), english.size()}),
                    arguments...);
  }
  template <typename... Arguments>
  std::string said_of(std::size_t number, fmt::string_view one, fmt::string_view several,
                      const Arguments&... arguments) const {
    return in_table(pattern_of(number, {one.data(), one.size()}, {several.data(), several.size()}),
                    arguments...);
  }
  template <typename... Arguments>
  std::string in_table(std::string_view pattern, const Arguments&... arguments) const {
    [[maybe_unused]] const char sign = decimal_sign();
    return fmt::vformat(pattern, fmt::make_format_args(written(arguments, sign)...));
  }
  std::string_view pattern_for(std::string_view key, std::string_view english) const;
  std::string_view pattern_of(std::size_t number, std::string_view one,
                              std::string_view several) const;

  std::shared_ptr<const WordTable> table_;
};

/// Reads a table of words. Nothing, and diagnostics, where it is not sound: whatever it says has
/// the arguments of the English pattern, formatted alike, so that saying it cannot fail.
std::shared_ptr<const WordTable> read_words(const SourceText& source, Diagnostics& diagnostics);

/// The languages that are built in, English first: "en", "de".
std::vector<std::string> built_in_languages();

/// The words of a built-in language; English for a name that is none.
Words built_in_words(std::string_view language);

}  // namespace panup

/// A number with a fraction, formatted as any other is, and then with its language's decimal sign.
template <>
struct fmt::formatter<panup::Decimal> : fmt::formatter<double> {
  template <typename Context>
  auto format(const panup::Decimal& number, Context& context) const {
    if (number.sign == '.') {
      return fmt::formatter<double>::format(number.value, context);
    }
    fmt::memory_buffer written;
    auto out = fmt::appender(written);
    Context inner(out, context.args(), context.locale());
    fmt::formatter<double>::format(number.value, inner);
    auto to = context.out();
    for (const char letter : written) {
      *to++ = letter == '.' ? number.sign : letter;
    }
    return to;
  }
};
