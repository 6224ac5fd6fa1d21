#include "mutation.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace panup {

namespace {

constexpr std::array<std::string_view, 22> numbers{
    "0",       "-1",   "1",     "2",      "3",   "0.5",  "7.5",
    "9.99999", "10",   "15",    "80",     "120", "160",  "400",
    "5000",    "1e-9", "1e308", "-1e308", "nan", "-inf", "9223372036854775807",
    "1_000"};
constexpr std::array<std::string_view, 18> words{
    "\"\"",   "\"cab 2\"", "true",        "false", "\"dangerous\"", "\"DC 3 kV\"", "\"system\"",
    "\"a1\"", "[]",        "[[",          "{}",    "{ a = 1 }",     "1979-05-27",  "\"\\u001B\"",
    "'''",    "\"A\"",     "\"diamond\"", "[1, 1]"};

/// A place in 0 to `count` - 1. Not `uniform_int_distribution`: its results differ by library.
std::size_t pick(std::mt19937& random, std::size_t count) {
  return count == 0 ? 0 : random() % count;
}

bool is_in_number(char c) { return (c >= '0' && c <= '9') || c == '.'; }

void replace_number(std::string& text, std::mt19937& random) {
  std::size_t at = pick(random, text.size());
  while (at < text.size() && !is_in_number(text[at])) {
    ++at;
  }
  std::size_t end = at;
  while (end < text.size() && is_in_number(text[end])) {
    ++end;
  }
  text.replace(at, end - at, numbers.at(pick(random, numbers.size())));
}

void replace_value(std::string& text, std::mt19937& random) {
  const std::size_t at = text.find("= ", pick(random, text.size()));
  if (at == std::string::npos) {
    return;
  }
  const std::size_t end = std::min(text.find('\n', at), text.size());
  text.replace(at + 2, end - at - 2, words.at(pick(random, words.size())));
}

/// Begin and end of the line that a random place lies in.
std::pair<std::size_t, std::size_t> random_line(const std::string& text, std::mt19937& random) {
  const std::size_t at = pick(random, text.size());
  const std::size_t before = at == 0 ? std::string::npos : text.rfind('\n', at - 1);
  const std::size_t begin = before == std::string::npos ? 0 : before + 1;
  const std::size_t end = text.find('\n', begin);
  return {begin, end == std::string::npos ? text.size() : end + 1};
}

void mutate(std::string& text, const std::vector<std::string>& seeds, std::mt19937& random) {
  if (text.empty()) {
    text = "x";
  }
  switch (pick(random, 12)) {
    case 0:
      text[pick(random, text.size())] = static_cast<char>(random() & 0xFFU);
      return;
    case 1:
      text.insert(pick(random, text.size()), 1, static_cast<char>(0x20 + random() % 0x5F));
      return;
    case 2: {
      const std::size_t at = pick(random, text.size());
      text.erase(at, pick(random, 40));
      return;
    }
    case 3: {
      const auto [begin, end] = random_line(text, random);
      text.erase(begin, end - begin);
      return;
    }
    case 4: {
      const auto [begin, end] = random_line(text, random);
      const std::string line = text.substr(begin, end - begin);
      text.insert(random_line(text, random).first, line);
      return;
    }
    case 5: {
      const std::string& other = seeds[pick(random, seeds.size())];
      const auto [begin, end] = random_line(other, random);
      text.insert(random_line(text, random).first, other.substr(begin, end - begin));
      return;
    }
    case 6:
    case 7:
      replace_value(text, random);
      return;
    default:
      replace_number(text, random);
  }
}

}  // namespace

std::string mutated(const std::vector<std::string>& seeds, std::mt19937& random) {
  std::string text = seeds[pick(random, seeds.size())];
  for (std::size_t left = 1 + pick(random, 3); left > 0; --left) {
    mutate(text, seeds, random);
  }
  return text;
}

}  // namespace panup
