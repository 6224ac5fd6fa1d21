#pragma once

#include <optional>
#include <string>
#include <vector>

#include "line/route.h"

namespace panup {

/// A line with what lies along it, by its own kilometres.
struct NetworkLine {
  std::string id;
  std::string name;
  /// As a train finds it that runs by rising kilometres: no stops, and of the marks those that hold
  /// for it.
  Route track;
  std::vector<Landmark> falling_landmarks;  ///< those that hold for the other direction
  SourcePlace place;
};

/// Where a place lies on a line.
struct PlaceOnLine {
  std::string line;  ///< id
  double at_km = 0;
};

/// A station or a junction. One that lies on several lines joins them.
struct NetworkPlace {
  std::string id;
  std::string name;
  std::vector<PlaceOnLine> on;
  SourcePlace place;
};

/// Sections that something is said of together.
struct Region {
  std::string id;
  std::string name;
  std::vector<std::string> sections;  ///< ids
};

/// The next part of a way: along a line to a place.
struct WayLeg {
  std::string line;  ///< id
  std::string to;    ///< id of a place
  SourcePlace line_place;
  SourcePlace to_place;
};

/// A way through a network: from a place, along lines, to another.
struct NetworkWay {
  std::string id;
  std::string name;
  std::string from;  ///< id of a place
  std::vector<WayLeg> legs;
  SourcePlace from_place;
  SourcePlace place;
};

/// Infrastructure apart from running: many lines, and where they meet.
struct Network {
  std::string id;
  std::string name;
  bool invented = false;  ///< demo data; shown wherever the network is shown
  std::string contact_line_folder;
  std::vector<NetworkLine> lines;
  std::vector<NetworkPlace> places;
  std::vector<Region> regions;
  std::vector<NetworkWay> ways;
  SourcePlace place;
};

/// By their ids; null if there is none.
const NetworkLine* line_of(const Network& network, const std::string& id);
const NetworkPlace* place_of(const Network& network, const std::string& id);

/// The kilometre of a line at which a place lies; nothing if it does not lie on the line.
std::optional<double> km_on(const NetworkPlace& place, const std::string& line);

}  // namespace panup
