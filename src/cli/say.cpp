#include "cli/say.h"

#include <cstdio>

namespace panup {

void say(std::string_view text) {
  static_cast<void>(std::fwrite(text.data(), 1, text.size(), stderr));
}

}  // namespace panup
