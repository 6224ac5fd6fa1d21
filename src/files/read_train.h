#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "files/read_stock.h"
#include "stock/train.h"

namespace panup {

/// Reads a train made up of types of `stock`, with the consents that stand in its own text. Nothing
/// if anything is wrong with it, or if a type it names could not be read; what was reported when
/// the stock was read is not said again.
std::optional<Train> read_train(const SourceText& source, const Stock& stock,
                                Diagnostics& diagnostics);

/// What is no mistake of the train but has to be said in every plan of it: a load whose highest
/// speed is not stated, where the train states none for all of it.
Diagnostics notices_on(const Train& train);

/// A train with the paths of all files it came from.
struct TrainFiles {
  Train train;
  std::vector<std::string> stock_paths;
  std::vector<std::string> consent_paths;
};

/// Reads a train file with the files of stock and of consents that it names, relative to itself,
/// and `more_consents`. A file named twice is read once. Of the consents the train gets those that
/// are for it; those that do not count on its day are set apart.
std::optional<TrainFiles> read_train_file(const std::string& path, Diagnostics& diagnostics,
                                          const FileSource& files = files_on_disk(),
                                          const std::vector<std::string>& more_consents = {});

}  // namespace panup
