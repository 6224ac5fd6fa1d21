#include "base/listed.h"

#include "base/words.h"

namespace panup {

std::string listed(const std::vector<std::string>& items) { return Words().listed(items); }

}  // namespace panup
