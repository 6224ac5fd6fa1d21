#include "drawing/text_style.h"

#include "drawing/text.h"

namespace panup {

std::string fitted(const std::string& text, std::size_t longest) {
  return kept_together(plain(shortened(text, longest)));
}

}  // namespace panup
