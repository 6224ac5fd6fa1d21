#pragma once

#include <map>
#include <string>

#include "dynamics/contact_line.h"
#include "dynamics/pantograph_model.h"

namespace panup {

/// Contact lines and mechanical models by the names that who asks for them has for them.
struct MechanicsData {
  std::map<std::string, ContactLine> lines;            ///< by line type
  std::map<std::string, PantographModel> pantographs;  ///< by pantograph type
};

}  // namespace panup
