#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/source_text.h"

namespace panup {

/// A route file taken apart: what lies along the line, and one train's way and stops on it.
struct RouteTakenApart {
  std::string id;                 ///< of the route
  std::string network;            ///< the text of its file
  std::string run;                ///< the text of its file
  std::vector<std::string> done;  ///< what was done, and what is to be looked at; a sentence each
};

/// Where the two files go, and the train that runs.
struct TakenApartInto {
  std::string network_path;
  std::string run_path;
  std::string train_path;
};

/// Takes a route file apart. The new files say the same: the way of the run is the route. Nothing,
/// and diagnostics, where the route has mistakes, or where a separation section lies across a
/// reversal, so that no cut divides the lines.
std::optional<RouteTakenApart> take_apart(const SourceText& route, const TakenApartInto& into,
                                          Diagnostics& diagnostics);

}  // namespace panup
