#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/file_source.h"
#include "files/read_speed_table.h"

namespace panup {

inline constexpr std::size_t most_day_trains = 20'000;
inline constexpr std::size_t longest_train_number = 64;

/// One train of a day: a row of its file, or of the table that the file names.
struct DayTrain {
  std::string number;
  FileNamed train;
  FileNamed route;
  FileNamed run = {};                      ///< in the place of train and route; mostly none
  std::string departure = {};              ///< HH:MM:SS; empty: not stated
  std::vector<std::string> vehicles = {};  ///< their numbers in order; empty: as in the train file
  std::optional<FileNamed> conditions = {};  ///< in place of the day's
  SourcePlace place;                         ///< of the row
  SourcePlace vehicles_place;                ///< of `vehicles`, or of the row
};

/// A day's trains, as its file and the table beside it say.
struct DayFile {
  std::string name;
  std::string date;  ///< YYYY-MM-DD
  bool invented = false;
  std::vector<FileNamed> rules;  ///< after the built-in book, in order
  std::optional<FileNamed> conditions;
  std::vector<FileNamed> consents;
  std::vector<FileNamed> defects;
  std::optional<FileNamed> table;
  std::vector<DayTrain> trains;  ///< those of the file first, then those of the table
};

/// Reads a day, and the table of trains that it names; no other file that it names is looked at.
/// Nothing, and diagnostics, where anything is wrong.
std::optional<DayFile> read_day(const SourceText& source, const FileSource& files,
                                Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<DayFile> read_day_file(const std::string& path, Diagnostics& diagnostics,
                                     const FileSource& files = files_on_disk());

/// The name of the folder that is called after a train: its number, with '_' for a space.
std::string folder_of_number(const std::string& number);

}  // namespace panup
