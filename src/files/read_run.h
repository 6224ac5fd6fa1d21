#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "files/read_speed_table.h"
#include "files/read_train.h"
#include "line/network.h"
#include "stock/consist_changes.h"

namespace panup {

/// A place of a run, with the times of the timetable there, in seconds of the day.
struct RunStop {
  std::string at;  ///< id of a place
  std::optional<int> arrival_s;
  std::optional<int> departure_s;
  std::optional<int> passing_s;  ///< the train does not stop there
  bool reversal = false;
  /// What happens to the train there, in order; what is attached is read by `read_attached`.
  std::vector<ConsistChange> changes;
  /// Of the train as it leaves; nothing: as before.
  std::optional<double> highest_speed_kmh;
  std::optional<double> acceleration_ms2;
  std::optional<double> braking_ms2;
  SourcePlace place;

  bool stops() const { return !passing_s; }
};

/// The run of a train: through which network, which way, and where it stops.
struct RunFile {
  std::string id;
  std::string name;
  bool invented = false;
  FileNamed network;
  FileNamed train;
  std::vector<FileNamed> stock;  ///< of vehicles that are attached, besides the train's own
  std::string train_number;      ///< empty: as in the train file
  std::string date;              ///< YYYY-MM-DD; empty: as in the train file
  std::string days;              ///< in free words; empty: as in the train file
  std::string way;               ///< id of a way of the network; empty: the next two say it
  std::string from;              ///< id of a place
  std::vector<WayLeg> legs;
  std::optional<int> departure_s;
  std::vector<RunStop> stops;  ///< in order along the way
  SourcePlace way_place;
  SourcePlace from_place;
  SourcePlace place;
};

/// Reads a run; no file that it names is looked at. Nothing, and diagnostics, where anything is
/// wrong.
std::optional<RunFile> read_run(const SourceText& source, Diagnostics& diagnostics);

/// Reads the vehicles and loads that are attached on a run, from its text once more, for their
/// types have to be known. `next_number`: of the first vehicle.
void read_attached(const SourceText& source, const Stock& stock, int next_number, RunFile& run,
                   const std::vector<ReplacedClass>& replaced, Diagnostics& diagnostics);

/// The way of a run through its network; nothing, and a diagnostic, where the network has none of
/// that name.
std::optional<NetworkWay> way_of(const RunFile& run, const Network& network,
                                 Diagnostics& diagnostics);

}  // namespace panup
