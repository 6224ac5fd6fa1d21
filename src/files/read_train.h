#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "base/words.h"
#include "files/read_provenance.h"
#include "files/read_stock.h"
#include "stock/train.h"

namespace panup {

/// One run of a train, which says some things in place of the train's file.
struct TrainRun {
  std::string number;     ///< under which it runs; empty: as in the file
  std::string date = {};  ///< the day, as YYYY-MM-DD
  std::string days = {};  ///< in free words; with `date` empty: as in the file
  std::vector<std::string> vehicles =
      {};                  ///< numbers of its vehicles in order; empty: as in the file
  SourcePlace place = {};  ///< of the numbers, or of what says that it runs
};

/// A class, and the one that runs in its place.
struct ReplacedClass {
  std::string id;  ///< of a vehicle type
  std::string by;  ///< of the one that runs in its place
  SourcePlace id_place;
  SourcePlace by_place;
};

/// Reads a train made up of types of `stock`, with the consents that stand in its own text. Nothing
/// if anything is wrong with it, or if a type it names could not be read; what was reported when
/// the stock was read is not said again. `run`: null where the file says all of it. `replaced`: a
/// vehicle of such a class is of the other one, and what the file states of its single pantographs,
/// or of its current, is a mistake: it was said of another vehicle.
std::optional<Train> read_train(const SourceText& source, const Stock& stock,
                                Diagnostics& diagnostics, const TrainRun* run = nullptr,
                                const std::vector<ReplacedClass>& replaced = {});

/// Of a train, that can be planned.
inline constexpr std::size_t most_pantographs = 64;

/// Far below what any train does: with less, times have no meaning, and no bound.
inline constexpr double least_acceleration_ms2 = 0.01;

/// What stands in a train.
struct ReadConsist {
  std::vector<ConsistItem> items;
  bool complete = true;  ///< but for what has been reported
};

/// Reads entries of a consist. Vehicles get the numbers behind `number`, which goes on with them.
ReadConsist read_consist(std::vector<TomlTable> entries, const Stock& stock, int& number,
                         const std::vector<ReplacedClass>& replaced, const ValueSources& sources);

/// What is no mistake of the train but has to be said in every plan of it: a load whose highest
/// speed is not stated, where the train states none for all of it.
Diagnostics notices_on(const Train& train);

/// A train with the paths of all files it came from.
struct TrainFiles {
  Train train;
  Stock stock;
  std::vector<std::string> stock_paths;
  std::vector<std::string> consent_paths;
  std::vector<std::string> defect_paths;
};

/// What a train is read with besides its own file.
struct BesideTrain {
  std::vector<std::string> consents = {};  ///< files of consents for many trains
  std::vector<std::string> defects = {};   ///< registers of defects
  std::vector<std::string> stock = {};     ///< files of stock besides those that it names
  std::optional<TrainRun> run = {};
  std::vector<ReplacedClass> replaced = {};  ///< classes
  Words words = {};                          ///< in which it is said why a consent does not count
  /// How stock is read: one that many trains share may have been read already.
  std::function<Stock(const std::vector<SourceText>& sources, Diagnostics& diagnostics,
                      PantographTypes types)>
      read_stock = panup::read_stock;
};

/// Reads a train file with the files of stock and of consents that it names, relative to itself,
/// and what is `beside` it. A file named twice is read once. Of the consents the train gets those
/// that are for it; those that do not count on its day are set apart. Of the registers it gets the
/// entries on its vehicles that count on that day.
std::optional<TrainFiles> read_train_file(const std::string& path, Diagnostics& diagnostics,
                                          const FileSource& files = files_on_disk(),
                                          const BesideTrain& beside = {});

}  // namespace panup
