#include "base/sentence.h"

#include <fmt/args.h>

#include <algorithm>

namespace panup {

namespace {

using Store = fmt::dynamic_format_arg_store<fmt::format_context>;

void add(Store& store, const Sentence::Argument& argument, const Words& words) {
  if (const auto* const number = std::get_if<double>(&argument.value)) {
    store.push_back(Decimal{*number, words.decimal_sign()});
  } else if (const auto* const count = std::get_if<std::uint64_t>(&argument.value)) {
    store.push_back(*count);
  } else if (const auto* const text = std::get_if<std::string>(&argument.value)) {
    store.push_back(*text);
  } else {
    const auto& inner = std::get<std::vector<Sentence>>(argument.value);
    store.push_back(inner.empty() ? std::string() : inner.front().said(words));
  }
}

/// How a number is written in a pattern: "g", ".1f", ".4g". No other format is read, for one with a
/// width takes as much memory as it says.
bool is_of_number(std::string_view format) {
  const bool has_digits =
      format.size() == 3 && format[0] == '.' && format[1] >= '0' && format[1] <= '9';
  return format == "g" || (has_digits && (format[2] == 'f' || format[2] == 'g'));
}

}  // namespace

Sentence::Sentence(std::string text) : pattern_("{}"), arguments_{{std::move(text)}} {}

Sentence::Sentence(std::string pattern, std::vector<Argument> arguments)
    : pattern_(std::move(pattern)), arguments_(std::move(arguments)) {}

std::string Sentence::said(const Words& words) const {
  Store store;
  for (const Argument& argument : arguments_) {
    add(store, argument, words);
  }
  // A table's pattern has the arguments of the English one, formatted alike.
  return fmt::vformat(words.named(pattern_), store);
}

bool Sentence::is_sound() const {
  std::size_t next = 0;
  for (std::size_t at = 0; at < pattern_.size(); ++at) {
    if (pattern_[at] == '}') {
      return false;
    }
    if (pattern_[at] != '{') {
      continue;
    }
    const std::size_t end = pattern_.find('}', at);
    if (end == std::string::npos || next == arguments_.size()) {
      return false;
    }
    const std::string_view field = std::string_view(pattern_).substr(at + 1, end - at - 1);
    const bool is_number = std::holds_alternative<double>(arguments_[next].value);
    if (!field.empty() && !(field[0] == ':' && is_number && is_of_number(field.substr(1)))) {
      return false;
    }
    ++next;
    at = end;
  }
  return next == arguments_.size() && std::ranges::all_of(arguments_, [](const Argument& argument) {
           const auto* const inner = std::get_if<std::vector<Sentence>>(&argument.value);
           return inner == nullptr || (inner->size() == 1 && inner->front().is_sound());
         });
}

bool Sentence::operator==(const Sentence& other) const {
  return pattern_ == other.pattern_ && arguments_ == other.arguments_;
}

std::vector<std::string> said(const std::vector<Sentence>& sentences, const Words& words) {
  std::vector<std::string> texts;
  for (const Sentence& sentence : sentences) {
    texts.push_back(sentence.said(words));
  }
  return texts;
}

}  // namespace panup
