#pragma once

#include <string>
#include <string_view>

#include "base/words.h"

namespace panup {

/// The days on which something holds, as a register states them: YYYY-MM-DD each, both included.
struct Validity {
  std::string from = {};   ///< first day; empty: not limited
  std::string until = {};  ///< last day; empty: not limited
  friend bool operator==(const Validity&, const Validity&) = default;

  bool limited() const { return !from.empty() || !until.empty(); }
  /// `day`: must be known.
  bool holds_on(const std::string& day) const;
};

/// Whether both hold on some day.
bool overlap(const Validity& one, const Validity& other);

/// Whether it is a day of the calendar, as YYYY-MM-DD.
bool is_day(std::string_view text);

/// "it holds from 2031-05-01 to 2031-05-31". One that is limited.
std::string validity_words(const Validity& validity, const Words& words = {});

}  // namespace panup
