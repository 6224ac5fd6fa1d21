#include "drawing/text.h"

#include <algorithm>
#include <array>

namespace panup {

namespace {

constexpr std::array<std::string_view, 10> units{"km/h", "m",   "kV",  "Hz", "A",
                                                 "N",    "m/s", "min", "s",  "mm"};

constexpr bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

/// The word that `text` begins with, without the punctuation that ends it.
std::string_view first_word(std::string_view text) {
  std::string_view word = text.substr(0, text.find(' '));
  while (!word.empty() && std::string_view(".,;:)").find(word.back()) != std::string_view::npos) {
    word.remove_suffix(1);
  }
  return word;
}

constexpr bool is_small(char letter) { return letter >= 'a' && letter <= 'z'; }
constexpr bool is_capital(char letter) { return letter >= 'A' && letter <= 'Z'; }

}  // namespace

std::string capitalised(std::string_view text) {
  std::string out(text);
  if (!out.empty() && is_small(out.front())) {
    out.front() = static_cast<char>(out.front() - 'a' + 'A');
  } else if (out.size() > 1 && out[0] == '\xc3' && out[1] >= '\xa0' && out[1] <= '\xbe') {
    out[1] = static_cast<char>(out[1] - 0x20);  // ü to Ü, in UTF-8
  }
  return out;
}

std::string uncapitalised(std::string_view text, const Words& words) {
  std::string out(text);
  if (words == Words() && out.size() > 1 && is_capital(out[0]) && is_small(out[1])) {
    out.front() = static_cast<char>(out.front() - 'A' + 'a');
  }
  return out;
}

std::string plain(std::string_view text) {
  std::string out(text);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto byte = static_cast<unsigned char>(out[i]);
    const bool second_of_c1 =
        i > 0 && static_cast<unsigned char>(out[i - 1]) == 0xc2 && byte >= 0x80 && byte < 0xa0;
    if (byte < 0x20 || byte == 0x7f) {
      out[i] = ' ';
    } else if (second_of_c1) {
      out.replace(i - 1, 2, " ");
      --i;
    }
  }
  return out;
}

std::string shortened(std::string_view text, std::size_t characters) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool begins_character = (static_cast<unsigned char>(text[i]) & 0xc0U) != 0x80U;
    if (begins_character && ++count > characters) {
      return std::string(text.substr(0, i)) + "…";
    }
  }
  return std::string(text);
}

std::string kept_together(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view before = text.substr(0, i);
    const std::string_view after = text.substr(i + 1);
    const bool keep =
        text[i] == ' ' && i > 0 && !after.empty() &&
        ((is_digit(before.back()) && std::ranges::find(units, first_word(after)) != units.end()) ||
         (is_digit(after.front()) && (before == "km" || before.ends_with(" km"))));
    out += keep ? std::string_view("\u00a0") : text.substr(i, 1);
  }
  return out;
}

}  // namespace panup
