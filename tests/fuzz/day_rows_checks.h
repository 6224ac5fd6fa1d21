#pragma once

#include <algorithm>
#include <set>

#include "files/read_day.h"
#include "harness.h"

namespace panup {

/// Whether folders can be called after the trains, no two alike, and vehicles stand once.
inline void require_usable(const std::vector<DayTrain>& trains) {
  std::set<std::string> folders;
  for (const DayTrain& train : trains) {
    const std::string folder = folder_of_number(train.number);
    if (folder.empty() || folder.front() == '.' || folder.find('/') != std::string::npos ||
        folder.size() > longest_train_number || !folders.insert(folder).second) {
      fail("a folder can be called after every train");
    }
    if (!train.departure.empty() &&
        (train.departure.size() != 8 || train.departure >= "24" || train.departure[2] != ':')) {
      fail("a departure is a time of day");
    }
    if (train.train.path.empty() || train.route.path.empty()) {
      fail("a train has files");
    }
    const std::set<std::string> vehicles(train.vehicles.begin(), train.vehicles.end());
    if (vehicles.size() != train.vehicles.size() || vehicles.contains("")) {
      fail("a vehicle has a number and stands in a train once");
    }
  }
}

}  // namespace panup
