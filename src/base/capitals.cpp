#include "base/capitals.h"

namespace panup {

namespace {

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

}  // namespace panup
