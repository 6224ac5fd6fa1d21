#include "render/card_style.h"

#include "render/wording.h"

namespace panup {

std::string fitted(const std::string& text, std::size_t longest) {
  return kept_together(plain(shortened(text, longest)));
}

}  // namespace panup
