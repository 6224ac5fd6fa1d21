#pragma once

#include <map>
#include <string>

#include "dynamics/contact_line.h"
#include "dynamics/pantograph_model.h"

namespace panup {

/// Contact lines and mechanical models, each under the name by which the caller asks for it.
struct MechanicsData {
  std::map<std::string, ContactLine> lines;            ///< by line type
  std::map<std::string, PantographModel> pantographs;  ///< by pantograph type
};

}  // namespace panup
