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

}  // namespace

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
