#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "line/network.h"

namespace panup {

/// A stop of a train on its way.
struct WayStop {
  std::string at;         ///< id of a place
  bool reversal = false;  ///< the train leaves in the other direction
  bool passes = false;    ///< the train does not stop there
  /// Where it leaves by the line that it came by: how far behind the place its new front stands, a
  /// train's length for a train that keeps its vehicles.
  double new_front_behind_m = 0;
  SourcePlace place;
};

/// A route, and where the stops that were asked for lie on it.
struct ComposedRoute {
  Route route;
  std::vector<double> stop_kms;  ///< in their order, departure and arrival included
};

/// The route that a way through a network is for a train with these stops, in their order; nothing,
/// and mistakes at their places in the files, where there is no such way.
///
/// A way along one line by rising kilometres without a reversal has the kilometres of that line for
/// its chainage, so that a driver reads on the posts what the orders say. Any other begins at 0 and
/// runs on, and each section says which kilometres of which line it is. What a train runs against
/// is turned round: gradients change their sign, zones of a separation section and the supports of
/// a span their order; of marks that hold for one direction those of the other are left out.
///
/// A train that turns back along the line it came by has its new front where its rear was, so the
/// way back begins there. Where it leaves by another line it has cleared the place where they join,
/// and the way begins at that place.
///
/// What is passed a second time has a name of its own then, for boards name what they are for.
std::optional<ComposedRoute> compose_route(const Network& network, const NetworkWay& way,
                                           const std::vector<WayStop>& stops,
                                           Diagnostics& diagnostics);

/// The stops that a way needs by itself: where it turns back along the line it came by.
std::vector<WayStop> turns_of(const Network& network, const NetworkWay& way);

/// A separation section as a train finds it that runs the other way. It begins where it ended:
/// where that lies by the chainage of the other way is for the caller to say.
SeparationSection turned_round(const SeparationSection& separation);

}  // namespace panup
