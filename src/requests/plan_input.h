#pragma once
/// The room `requests`: what a command or the page asks of the engine, put together from the files
/// it names. What it hands on is right, each file in itself and all of them together.

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/file_source.h"
#include "base/handed_out.h"
#include "base/replaced_files.h"
#include "base/words.h"
#include "files/read_mechanics_data.h"
#include "files/read_train.h"
#include "plan/make_plan.h"
#include "requests/parsed_files.h"
#include "rules/rule_book.h"

namespace panup {

/// The files that a plan is asked for with.
struct PlanPaths {
  std::string train;
  std::string route;
  std::string run_file = {};               ///< a run; train and route are empty then
  std::string conditions;                  ///< empty: none are stated
  std::vector<std::string> rules;          ///< rule books after the built-in one, in order
  std::vector<std::string> consents = {};  ///< files of consents besides those the train names
  std::vector<std::string> defects = {};   ///< registers of defects
  std::string departure = {};              ///< HH:MM:SS, in place of the run's; empty: as there
  std::optional<TrainRun> run = {};        ///< what a day says in place of the train's file
  /// Files that others are read in the place of; those of the paths above, and what they name.
  std::vector<ReplacedFile> replaced_files = {};
  std::vector<ReplacedClass> replaced_classes = {};
  Words words = {};  ///< in which the plan is said
};

/// A plan's request, with all files it was read from.
struct PlanInput {
  PlanRequest request;       ///< but for `mechanics`, which is set where runs come from
  MechanicsFiles mechanics;  ///< empty where the speed is from tables
  std::vector<InputFile> files;
  std::vector<std::string> not_there;  ///< files that were looked for, and may do without
  /// Of a run with several parts: what happens to the train where this one ends. Empty on the last
  /// one.
  std::vector<std::string> changes;
};

/// Reads all files, so that the mistakes of all of them, and between them, are seen at once.
/// Nothing, and at least one diagnostic, if anything is wrong. `parsed`: what other requests that
/// read through `files` have parsed already; null where there are none.
std::optional<PlanInput> read_plan_input(const PlanPaths& paths, SpeedFrom speed_from,
                                         const FileSource& files, Diagnostics& diagnostics,
                                         ParsedFiles* parsed = nullptr);

/// The built-in book, and the books of `paths` after it; nothing where one has mistakes. `day`: as
/// of `add_rule_book`.
std::optional<RuleBook> read_rule_books(const std::vector<std::string>& paths,
                                        const std::optional<std::string>& day,
                                        Diagnostics& diagnostics,
                                        const FileSource& files = files_on_disk());

}  // namespace panup
