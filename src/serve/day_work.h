#pragma once

#include <memory>
#include <optional>
#include <string>

#include "base/diagnostics.h"
#include "base/words.h"
#include "day/plan_day.h"
#include "serve/job_work.h"

namespace panup {

/// A day of the library as one request reads it: every file once.
struct DayRead {
  explicit DayRead(FileSource source) : files(std::move(source)) {}

  FileSource files;
  FilesReadOnce once{files};
  std::string path;
  DayFile day;
  SharedByTrains shared;
};

/// Reads a day, with what all its trains share; null, and diagnostics, where anything of it is
/// wrong. The books that the server makes every plan with come before those of the day.
std::shared_ptr<DayRead> read_day_of_library(const std::string& path, const PlanningPlace& place,
                                             Diagnostics& diagnostics);

/// The answers of a day's trains, kept in the file `store`, where one is named and can be used, and
/// otherwise as long as the server runs; null where there is no room for that.
std::shared_ptr<KeptAnswers> open_answers(const std::optional<std::string>& store,
                                          const std::function<void(const std::string&)>& warn);

/// All trains of a day of the library; each is told of when it is done.
struct AskedDay {
  std::string day;
  Words words = {};  ///< in which it is said
};

/// A day as it is, and as it would be.
struct AskedWhatIf {
  std::string day;
  std::string what_if;
  Words words = {};
};

/// As those of `job_work.h`.
std::optional<JobWork> day_work(const AskedDay& asked, const WorkPlace& place,
                                Diagnostics& diagnostics);
std::optional<JobWork> what_if_work(const AskedWhatIf& asked, const WorkPlace& place,
                                    Diagnostics& diagnostics);

}  // namespace panup
