#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/energy_supply.h"
#include "base/file_source.h"

namespace panup {

/// A file that another one names.
struct FileNamed {
  std::string path;   ///< as seen from where the program runs
  SourcePlace place;  ///< of its name
};

inline constexpr std::size_t most_table_distances = 200;
inline constexpr std::size_t most_table_rows = 100'000;

/// A table of permitted speeds, as its file asks for it.
struct SpeedTableJob {
  std::string id;
  std::string name;
  bool invented = false;
  std::vector<FileNamed> contact_lines;
  std::vector<FileNamed> pantographs;
  std::optional<EnergySupply> supply;
  std::vector<int> raised;            ///< rising
  std::vector<double> distances_m;    ///< rising; empty where one pantograph alone is raised
  std::string_view knuckle = "both";  ///< "leading", "trailing" or "both"
  double up_to_kmh = 0;
  std::optional<double> temperature_c;
  int samples = 0;
  int seed = 1;
};

/// Reads what a table of speeds is asked for; the files that it names are not looked at. Nothing,
/// and diagnostics, where anything is wrong.
std::optional<SpeedTableJob> read_speed_table(const SourceText& source, Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<SpeedTableJob> read_speed_table_file(const std::string& path,
                                                   Diagnostics& diagnostics,
                                                   const FileSource& files = files_on_disk());

}  // namespace panup
