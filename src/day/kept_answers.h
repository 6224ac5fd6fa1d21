#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "day/day.h"
#include "day/train_reading.h"
#include "requests/files_read_once.h"
#include "requests/plan_input.h"

namespace panup {

struct StoreFile;  // of the room `runs`

/// An answer with what is read of its plan.
struct ReadAnswer {
  TrainOutcome outcome;
  TrainReading reading;
};

/// An answer of a train that was shown, and the one that is kept now, which is another.
struct AnswerSinceShown {
  ReadAnswer shown;
  ReadAnswer now;
};

/// A train of the day, and the key of its answer.
struct TrainShown {
  std::string train;   ///< as `key_of_train` names it
  std::string answer;  ///< as `key_of` names it
};

/// A name of a train of a day in a language, whatever it is planned with; 32 bytes. `day`: path of
/// its file. What was shown in one language is never held against what is said in another.
std::string key_of_train(const std::string& day, const std::string& date, const std::string& number,
                         SpeedFrom speed_from, const Words& words);

/// A name of what is asked for a train: number, day, vehicles, the paths of its files, what stands
/// in the place of files and classes, what the speed is from, and the words it is said in; 32
/// bytes. What the files hold is no part of it: by this name the answer before a change is found,
/// and put in place of.
std::string key_of(const PlanPaths& paths, SpeedFrom speed_from);

/// Answers of a day's trains, kept in a table of its own in a store of runs (`runs/store_file.h`):
/// for each train what the desk looks at, what is read of its plan, its plan as JSON (of a way in
/// parts, as that of a run), every file
/// that was read with its SHA-256, and files that were looked for and are not there. Each answer is
/// a transaction of its own, with a checksum: a process that is killed loses the trains that were
/// under way. An answer counts as long as every one of those files is as it was, and the program
/// too. Beside them stands what was shown of each train last. Safe from any thread; not to be used
/// on both sides of a fork.
class KeptAnswers {
 public:
  /// As `RunStore::open`.
  static std::variant<KeptAnswers, std::string> open(const std::string& path);

  /// In memory, for as long as it lives; what is against it, in words.
  static std::variant<KeptAnswers, std::string> open_in_memory();

  KeptAnswers(KeptAnswers&& other) noexcept;
  KeptAnswers& operator=(KeptAnswers&& other) noexcept;
  ~KeptAnswers();

  /// The answer kept under a key, if it still holds. What cannot be read, or does not match its
  /// checksum, counts as not kept. `reading`, unless null, receives what is read of its plan.
  std::optional<TrainOutcome> find(const std::string& key, FilesReadOnce& files,
                                   TrainReading* reading = nullptr);

  /// The plan kept under a key as JSON, whether it still holds or not; nothing where there is none,
  /// or it cannot be read.
  std::optional<std::string> plan_of(const std::string& key);

  /// Keeps an answer, in place of what is kept of its key. Where another thread is writing, that
  /// one writes it next. Where it cannot be written, `failure` says so and nothing more is kept.
  void add(const std::string& key, const RunPlan& run, const TrainOutcome& outcome,
           const TrainReading& reading);

  /// The answer that was shown last of a train, and the one now kept, where they differ in any
  /// byte; nothing where none was shown, or one of them cannot be read.
  std::optional<AnswerSinceShown> since_shown(const TrainShown& train);

  /// Notes that the answers now kept were shown; of a train without one nothing is noted. All of
  /// them or, where it cannot be written, none: `failure` says so then.
  void note_shown(const std::vector<TrainShown>& trains);

  /// Why answers could not be kept; empty where they could.
  std::string failure() const;
  /// What the user should know of how it was opened, in words; mostly empty.
  const std::string& note() const;

 private:
  struct State;
  explicit KeptAnswers(std::unique_ptr<State> state);
  static std::variant<KeptAnswers, std::string> with_table(const std::string& path, StoreFile file);
  std::unique_ptr<State> state_;
};

/// Differs between any two states of the program that might answer differently.
std::string_view planning_fingerprint();

}  // namespace panup
