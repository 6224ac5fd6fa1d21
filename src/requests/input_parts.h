#pragma once

#include <vector>

#include "requests/files_read_once.h"
#include "requests/plan_input.h"

namespace panup {

/// What plans of single trains and of runs with several parts are put together from alike.

/// Reads what the mechanics needs, where it is asked.
bool read_mechanics(PlanInput& input, const FileSource& files, Diagnostics& diagnostics);

/// Of the bytes that were read of every file, with the path they were read from.
void take_hashes(std::vector<InputFile>& inputs, const FilesReadOnce& read,
                 const std::vector<ReplacedFile>& replaced);

/// All files, as they stand with a plan: those of the train, `infrastructure` (route, or run and
/// network), conditions, rule books.
std::vector<InputFile> files_of(const PlanPaths& paths, const std::string& train_path,
                                const TrainFiles& train,
                                const std::vector<InputFile>& infrastructure);

/// What a train is read with besides its file.
BesideTrain beside_train(const PlanPaths& paths, ParsedFiles* parsed);

}  // namespace panup
