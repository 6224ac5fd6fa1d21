#pragma once

#include <map>
#include <string>

#include "dynamics/contact_line.h"
#include "dynamics/pantograph_model.h"

namespace panup {

/// What is there to answer for a train on a route: contact lines by the name of their type, and
/// mechanical models by the id of the pantograph type they stand for.
struct MechanicsData {
  std::map<std::string, ContactLine> lines;
  std::map<std::string, PantographModel> pantographs;
};

}  // namespace panup
