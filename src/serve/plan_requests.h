#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "plan/run_plan.h"
#include "requests/run_input.h"
#include "serve/library.h"
#include "serve/reply.h"
#include "serve/request_json.h"

namespace panup {

/// Where plans are made: the library, and the rule books that every plan is made with.
struct PlanningPlace {
  Library library;
  std::vector<std::string> rules;         ///< paths of this machine, in order
  std::optional<std::string> store = {};  ///< file of kept runs; nothing: none are kept
  int jobs = 0;
  std::string program_version;
};

/// Files of the library, and the rule books of the server under their own paths.
FileSource files_of(const PlanningPlace& place);

/// A train of a day of the library: its number, vehicles and date, and the consents and defects
/// that the day names, are taken from there. The texts are those of the request.
struct TrainOfDay {
  std::string day;
  std::string number;
};

/// What a request asks a plan for: a train and its route, or a train and the run that names it.
struct AskedPlan {
  PlanPaths paths;
  std::string train;  ///< name of its text, also where a run names it
  std::vector<SourceText> texts;
  std::optional<TrainOfDay> of_day = {};
  SpeedFrom speed_from = SpeedFrom::tables;
  /// Where files are read from besides the texts; nothing: the place's own.
  std::optional<FileSource> files = {};
  Diagnostics unwritten = {};  ///< why a train's model could not be written into its text
};

/// A text with its name, in the library or yet to be.
std::optional<SourceText> read_text(RequestObject& request, std::string_view key,
                                    Need need = Need::required);

/// The language that a request names; English where it names none.
Words read_language(RequestObject& request);

/// Reads train (a text or a model), route or run, conditions, rules, the place in a day, what gives
/// the speeds, and language; mistakes are reported.
AskedPlan read_asked_plan(RequestObject& request, const PlanningPlace& place);

/// Reads what was asked for; nothing, and diagnostics, where it has mistakes.
std::optional<RunInput> read_asked_input(const AskedPlan& asked, const PlanningPlace& place,
                                         Diagnostics& diagnostics);

/// The plan with what the page shows beside it; of a run, that of each part. `places`: as of
/// `RunInput`.
nlohmann::ordered_json plan_answer(const RunPlan& plan, const std::vector<std::string>& places,
                                   const AskedPlan& asked);

/// Whether nobody waits for a reply any more; asked from many threads. Empty: somebody does.
using Stopped = std::function<bool()>;

/// Pantographs that somebody would raise, as in "1.2", and where.
struct AskedWhy {
  std::vector<std::string> pantographs;
  double at_km = 0;
};

/// Reads `asked` and `at_km`.
AskedWhy read_asked_why(RequestObject& request);

/// The plan that is asked for, by the tables.
Reply reply_with_plan(const AskedPlan& asked, const PlanningPlace& place, const Stopped& stopped);
/// Why others are not up in it. `part`: of a run, counted from 1.
Reply reply_with_why(const AskedPlan& asked, std::optional<int> part, const AskedWhy& why,
                     const PlanningPlace& place, const Stopped& stopped);

/// By the tables alone: to ask the mechanics takes long, and is a job.
Reply reply_to_plan(const std::string& body, const PlanningPlace& place,
                    const Stopped& stopped = {});
/// These answer for exactly the plan that is asked for, whatever gives its speeds: runs that are
/// not kept are computed.
Reply reply_to_why(const std::string& body, const PlanningPlace& place,
                   const Stopped& stopped = {});

/// What the card says of one pantograph that fails.
Reply reply_to_failure(const std::string& body, const PlanningPlace& place,
                       const Stopped& stopped = {});

enum class Paper : std::uint8_t { card, report, report_for_browser };
Reply reply_to_paper(const std::string& body, Paper paper, const PlanningPlace& place,
                     const Stopped& stopped = {});

Reply reply_to_run_reading(const std::string& body);
Reply reply_to_train_reading(const std::string& body, const PlanningPlace& place);
Reply reply_to_train_writing(const std::string& body, const PlanningPlace& place);

}  // namespace panup
