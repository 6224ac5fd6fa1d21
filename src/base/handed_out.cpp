#include "base/handed_out.h"

#include <fmt/format.h>

namespace panup {

std::vector<std::string> cautions(std::string_view thing) {
  return {
      fmt::format("This {} supports, and does not replace, the rules of the infrastructure manager "
                  "and the operator and the decision of the person responsible.",
                  thing),
      "Local rules and licensed practice come first.",
      "Nobody goes on a roof or near a live wire on the strength of it.",
  };
}

}  // namespace panup
