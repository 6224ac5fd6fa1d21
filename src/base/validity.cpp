#include "base/validity.h"

#include <algorithm>
#include <charconv>
#include <chrono>

namespace panup {

namespace {

/// Days are written so that their order is that of the letters.
bool ends_before(const Validity& earlier, const Validity& later) {
  return !earlier.until.empty() && !later.from.empty() && earlier.until < later.from;
}

}  // namespace

bool Validity::holds_on(const std::string& day) const {
  return (from.empty() || from <= day) && (until.empty() || day <= until);
}

bool is_day(std::string_view text) {
  constexpr std::string_view pattern = "0000-00-00";
  const auto fits = [](char one, char wanted) {
    return wanted == '-' ? one == '-' : one >= '0' && one <= '9';
  };
  if (text.size() != pattern.size() || !std::ranges::equal(text, pattern, fits)) {
    return false;
  }
  const auto number = [text](std::size_t at, std::size_t size) {
    unsigned value = 0;
    std::from_chars(text.data() + at, text.data() + at + size, value);
    return value;
  };
  return std::chrono::year_month_day(std::chrono::year(static_cast<int>(number(0, 4))),
                                     std::chrono::month(number(5, 2)),
                                     std::chrono::day(number(8, 2)))
      .ok();
}

bool overlap(const Validity& one, const Validity& other) {
  return !ends_before(one, other) && !ends_before(other, one);
}

std::string validity_words(const Validity& validity, const Words& words) {
  if (validity.until.empty()) {
    return words.say("it holds from {}", validity.from);
  }
  return validity.from.empty() ? words.say("it holds until {}", validity.until)
                               : words.say("it holds from {} to {}", validity.from, validity.until);
}

}  // namespace panup
