#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "files/read_day.h"
#include "line/network.h"
#include "register_rows/network_changes.h"

namespace panup {

/// A train that runs through a network: its number, or its run's own name where none is stated.
struct RunOfTrain {
  std::string train;
  std::string path;  ///< of its run
};

/// A train whose way comes by what changes, or of which nobody can say that it does not.
struct TouchedRun {
  RunOfTrain run;
  std::vector<std::size_t> changes;  ///< of the network, that lie on its way
  std::string doubt;                 ///< why its way is not known, before or then; empty: it is
};

struct RunsTouched {
  std::vector<TouchedRun> touched;
  std::size_t asked = 0;      ///< through this network
  std::size_t elsewhere = 0;  ///< through another network
  std::size_t by_route = 0;   ///< by a route file, which no network changes
};

/// Adds what of a day's trains runs through a network to `runs`; the others are counted.
void add_runs_of(const DayFile& day, std::vector<RunOfTrain>& runs, RunsTouched& touched);

/// The two networks, and in what they differ.
struct ChangedNetwork {
  std::string path;               ///< of the one that is there
  std::optional<Network> before;  ///< none: it has mistakes, and every way is in doubt
  Network then;
  const NetworkChanges* changes = nullptr;
};

/// Which runs come by what changes, by line and kilometres: by the network that is there, and by
/// the one that would be. What begins where a way ends counts, for the train stands there. A new
/// place touches nobody, for no run names it.
void find_touched(const ChangedNetwork& network, const std::vector<RunOfTrain>& runs,
                  const FileSource& files, RunsTouched& touched);

}  // namespace panup
