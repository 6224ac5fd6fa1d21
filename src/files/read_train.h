#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "files/read_stock.h"
#include "stock/train.h"

namespace panup {

/// Reads a train made up of types of `stock`. Nothing if anything is wrong with it, or if a type it
/// names could not be read; what was reported when the stock was read is not said again.
std::optional<Train> read_train(const SourceText& source, const Stock& stock,
                                Diagnostics& diagnostics);

/// What is no mistake of the train but has to be said in every plan of it: a load whose highest
/// speed is not stated, where the train states none for all of it.
Diagnostics notices_on(const Train& train);

/// A train with the paths of all files it came from.
struct TrainFiles {
  Train train;
  std::vector<std::string> stock_paths;
};

/// Reads a train file and the stock files it names, relative to itself. A stock file named twice is
/// read once.
std::optional<TrainFiles> read_train_file(const std::string& path, Diagnostics& diagnostics,
                                          const FileSource& files = files_on_disk());

}  // namespace panup
