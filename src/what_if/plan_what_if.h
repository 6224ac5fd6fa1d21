#pragma once
/// The room `what_if`: what becomes of a day's trains where something of it is another way: ice, a
/// new record of the line, another class. `plan_what_if` plans the day as it is and as it would be,
/// and compares what comes out for each train (`day/train_change.h`); `what_if_report.h` shows
/// which trains change, what needs a decision first.

#include <optional>
#include <string>
#include <vector>

#include "day/plan_day.h"
#include "day/train_change.h"
#include "files/read_what_if.h"

namespace panup {

/// The day as it would be, but for files and classes that others stand in the place of.
DayFile changed_day(const DayFile& day, const WhatIf& what_if);

/// The files that others are read in the place of, as reading takes them.
std::vector<ReplacedFile> replaced_files_of(const WhatIf& what_if);

/// What is wrong between a day and what may be another way: a file that cannot be read, one that
/// the day has already, the day itself replaced. `day_path`: of the day's file.
Diagnostics mistakes_between(const std::string& day_path, const DayFile& day, const WhatIf& what_if,
                             const FileSource& files);

/// Adds the files of what is another way, with what was read of them.
void add_inputs(std::vector<InputFile>& inputs, const std::string& path, const WhatIf& what_if,
                FilesReadOnce& read);

/// Both days planned. By the day's trains; nothing where it was stopped before.
struct PlannedWhatIf {
  std::vector<std::optional<TrainOutcome>> before;
  std::vector<std::optional<TrainOutcome>> then;
  std::vector<TrainChange> changes;  ///< empty where it was stopped
  std::size_t planned = 0;           ///< plans that were made
  std::size_t kept = 0;              ///< answers that were kept and still hold
  /// Trains that nothing of what is another way touches: planned once.
  std::size_t untouched = 0;
  std::vector<std::string> notes;  ///< what of it no train has, one sentence each
  bool stopped = false;
};

/// Plans the day as it is, then those of its trains that what is another way touches, and compares
/// train by train. `today` is the request for the day as it is; `done` is called of each plan.
PlannedWhatIf plan_what_if(const DayRequest& today, const WhatIf& what_if);

}  // namespace panup
