#pragma once
/// Records of number, distance and speed of raised pantographs, and how those of one section are
/// read together.
///
/// A record permits so many raised pantographs or fewer, so far apart or farther, at its speed. One
/// alone has no distance: no record of several asks for more than it gives. Fewer pantographs and a
/// greater distance are the easier case, so a record that names a lower speed for an easier case
/// contradicts the one of the harder case. Which of the two is wrong nobody can tell from them: the
/// lower speed is taken for both. So a record counts with the lowest speed that is named for its
/// own case or an easier one, and of all that cover a configuration the fastest, so read, holds.
/// What that permits never falls when a pantograph is lowered or the distance grows.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/words.h"
#include "line/route.h"

namespace panup {

/// Distances are stated to the decimetre; a roof drawing is not more exact than that.
bool reaches(double distance_m, double wanted_m);

/// "2 raised, 20 m apart: 100 km/h", "one raised: 120 km/h".
std::string words_for(const RaisedRecord& record, const Words& words = {});

/// Whether `slower` names a lower speed than `record` for the same case or an easier one.
bool contradicts(const RaisedRecord& slower, const RaisedRecord& record);

/// A record, and the slowest of those that contradict it. Indices into the records.
struct Contradiction {
  std::size_t record = 0;
  std::size_t slower = 0;
};
/// In the order of the records.
std::vector<Contradiction> contradictions(std::span<const RaisedRecord> records);

/// What records say of a configuration.
struct RecordReading {
  double speed_kmh = 0;
  const RaisedRecord* permits = nullptr;  ///< the fastest that covers it, the first of equals
  /// The slowest that contradicts that one where its speed is not taken; null where it is.
  const RaisedRecord* against = nullptr;
};
/// `distance_m`: the least between adjacent ones; of no meaning for one alone, of which only
/// records of one speak. Nothing where no record covers the configuration.
std::optional<RecordReading> reading_of(std::span<const RaisedRecord> records, int number,
                                        double distance_m);

}  // namespace panup
