#include "drawn_texts.h"

#include <algorithm>

namespace panup {

bool says(const std::vector<DrawnText>& texts, std::string_view what) {
  return std::ranges::any_of(
      texts, [what](const DrawnText& text) { return text.text.find(what) != std::string::npos; });
}

bool overlap(const Box& a, const Box& b) {
  constexpr double touch = 0.1;
  return std::min(a.right(), b.right()) - std::max(a.x, b.x) > touch &&
         std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y) > touch;
}

}  // namespace panup
