#pragma once

#include <fmt/format.h>

#include <cstdint>
#include <string>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "base/words.h"

namespace panup {

/// What is said later, by whoever knows in which language: a pattern in English with its arguments.
/// It is kept and handed on as it is, so that nothing that is kept hangs on a language.
class Sentence {
 public:
  struct Argument;

  Sentence() = default;
  /// A text that is the same in every language, as it stands in a file.
  explicit Sentence(std::string text);
  Sentence(std::string pattern, std::vector<Argument> arguments);

  std::string said(const Words& words = {}) const;
  /// Whether the pattern takes just these arguments: of one that was read from somewhere. Of no
  /// other may be asked what it says.
  bool is_sound() const;

  const std::string& pattern() const { return pattern_; }
  const std::vector<Argument>& arguments() const { return arguments_; }

  bool operator==(const Sentence& other) const;

 private:
  std::string pattern_;
  std::vector<Argument> arguments_;
};

struct Sentence::Argument {
  /// The last one has one sentence in it, which is said in the same language.
  std::variant<double, std::uint64_t, std::string, std::vector<Sentence>> value;

  bool operator==(const Argument&) const = default;
};

/// A number, a text or a sentence as an argument; whole numbers are counts.
template <typename One>
Sentence::Argument argument_of(const One& one) {
  if constexpr (std::is_floating_point_v<One>) {
    return {static_cast<double>(one)};
  } else if constexpr (std::is_integral_v<One>) {
    return {static_cast<std::uint64_t>(one)};
  } else if constexpr (std::is_same_v<One, Sentence>) {
    return {std::vector<Sentence>{one}};
  } else {
    return {std::string(one)};
  }
}

/// The pattern and its arguments, to be said later; the pattern has an entry in every table of
/// words, as one that is said at once has.
template <typename... Arguments>
Sentence to_say(fmt::format_string<const Arguments&...> pattern, const Arguments&... arguments) {
  const fmt::string_view english = pattern;
  return {std::string(english.data(), english.size()), {argument_of(arguments)...}};
}

/// All of them, in their order.
std::vector<std::string> said(const std::vector<Sentence>& sentences, const Words& words = {});

}  // namespace panup

/// In English.
template <>
struct fmt::formatter<panup::Sentence> : fmt::formatter<std::string> {
  template <typename Context>
  auto format(const panup::Sentence& sentence, Context& context) const {
    return fmt::formatter<std::string>::format(sentence.said(), context);
  }
};
