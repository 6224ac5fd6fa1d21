#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/read_run.h"
#include "line/compose_route.h"

namespace panup {

/// A part of a run: the train keeps its vehicles from one place to another.
struct RunPart {
  Train train;
  std::optional<std::size_t> from;  ///< index of the stop it begins at; nothing: where the way does
  std::optional<std::size_t> to;    ///< index of the stop it ends at; nothing: where the way does
  std::vector<std::string> changes;  ///< what happens where it ends, an order each
  /// The vehicles that leave on the move where it ends, in words; empty: the train stands there.
  std::string leave_on_the_move = {};
  std::size_t leave_first = 0;      ///< how many of them leave first
  bool begins_on_the_move = false;  ///< some have left the train where it begins
};

/// The parts of a run, in order, with the train as it is on each: at least one. Reports changes
/// that cannot be made. The vehicles of a train keep their numbers.
std::vector<RunPart> parts_of(const RunFile& run, const Train& train, const Words& words,
                              Diagnostics& diagnostics);

/// How long the train is as it leaves each stop.
std::vector<double> lengths_leaving(const RunFile& run, const std::vector<RunPart>& parts);

/// The route of a part: the way before it, which lies over the rest of the train, and as far as the
/// part goes. Reports an end within a separation section.
std::optional<Route> route_of(const RunPart& part, const RunFile& run,
                              const ComposedRoute& composed, Diagnostics& diagnostics);

/// The route of a part as if its train ran alone: where it begins on the move, from its last stand
/// before, and where it ends so, to its next one behind.
Route route_under_way(const RunPart& part, const ComposedRoute& composed, bool begins_on_the_move,
                      bool ends_on_the_move);

/// The day on a route that ends before the way of the train does.
Conditions conditions_of(const Conditions& day, const Route& route);

}  // namespace panup
