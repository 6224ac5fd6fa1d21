#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "day/day.h"
#include "day/kept_answers.h"
#include "day/train_change.h"
#include "dynamics/mechanics_data.h"
#include "plan/make_plan.h"
#include "rules/rule_book.h"

namespace panup {

/// What a day is planned with.
struct DayRequest {
  const DayFile* day = nullptr;
  std::string day_path = {};  ///< of the day's file
  FilesReadOnce* files = nullptr;
  SpeedFrom speed_from = SpeedFrom::tables;
  int jobs = 0;  ///< threads; 0: as many as the machine has. Changes nothing in the result.
  std::string_view program_version;
  Words words = {};                                  ///< in which plans and answers are said
  std::vector<ReplacedFile> replaced_files = {};     ///< read from others, for all trains
  std::vector<ReplacedClass> replaced_classes = {};  ///< run by others, in all trains
  bool with_readings = false;                        ///< `PlannedDay::readings` is asked for
  /// Needed unless the speed is from tables. Trains are then planned one after the other, for the
  /// runs of one are enough for all threads.
  std::function<MechanicsSource(const MechanicsData& data, const RuleBook& rules)> mechanics = {};
  KeptAnswers* answers = nullptr;  ///< null: none are kept
  /// Every train is planned, also where its answer is kept: `made` needs the plan.
  bool plan_all = false;
  /// Called with the plans of each train as they are made, from many threads at once.
  std::function<void(std::size_t row, const std::shared_ptr<const RunPlan>& run)> made = {};
  /// Called when a train is done, with or without a plan, from many threads at once.
  std::function<void(std::size_t row)> done = {};
  /// Called before `done` with what came out for a train, from many threads at once.
  std::function<void(std::size_t row, const TrainOutcome& outcome)> came_out = {};
  std::function<bool()> stopped = {};  ///< asked from many threads
};

/// What of a train is another way since its answer was shown last.
struct ChangeSinceShown {
  TrainOutcome before;
  TrainChange change;
};

struct PlannedDay {
  /// By the day's trains; nothing where it was stopped before.
  std::vector<std::optional<TrainOutcome>> outcomes;
  /// By the day's trains, where it was asked for; nothing of a train without a plan.
  std::vector<std::optional<TrainReading>> readings;
  std::size_t planned = 0;
  std::size_t kept = 0;  ///< whose answer was kept and still holds
  bool stopped = false;
};

/// What the plan of a train of the day is asked for with.
PlanPaths paths_of_train(const DayFile& day, const DayTrain& train);

/// What of the files that all trains share is shown with the day.
struct SharedByTrains {
  std::vector<std::string> rule_books;           ///< names, in order
  std::vector<std::string> registered_vehicles;  ///< numbers that the registers of defects name
};

/// What is wrong with the files that all trains of the day share: rule books, conditions, consents,
/// registers of defects. With a mistake in one of them no train can be planned.
Diagnostics mistakes_in_shared_files(const DayFile& day, const FileSource& files,
                                     SharedByTrains& shared);

/// The day, its table and what all its trains share, with what was read of them.
std::vector<InputFile> inputs_of_day(const std::string& path, const DayFile& day,
                                     FilesReadOnce& read);

/// Plans all trains of the day, one a thread at a time, beginning with the first to depart. Each
/// answer is that of the train planned alone; where its vehicles change on the way, that of all the
/// parts. A train with mistakes in its input, or a fault of the
/// program, stops no other: that is its outcome then.
PlannedDay plan_day(const DayRequest& request);

/// In what trains are another way since their answers were shown last, by the day's trains; nothing
/// where nothing is, or nothing was shown of it before. Answers have to be kept, as for the next.
std::vector<std::optional<ChangeSinceShown>> changes_since_shown(const DayRequest& request,
                                                                 const PlannedDay& planned);

/// Notes in the store of answers that what is kept of these trains has been shown: by that, the
/// next time says what has changed. To be called once a table of them was handed out.
void note_shown(const DayRequest& request, const PlannedDay& planned);

}  // namespace panup
