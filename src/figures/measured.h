#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "records/compare_record.h"
#include "records/judge_record.h"

namespace panup {

/// A record of measured contact force with all that is said of it when it is handed out.
struct MeasuredReport {
  MeasuredRecord record;
  std::optional<ContactLine> line;
  std::vector<MeasuredRun> runs;
  JudgedRecord judged;
  std::vector<std::string> criteria;    ///< those in force, in words
  std::vector<std::string> not_judged;  ///< those that are not asked, and why
  std::vector<ComparedRun> compared;    ///< one a run, or none
  std::string not_compared;             ///< why there is no simulation of any; else empty
  std::vector<std::string> rule_books;
  std::vector<InputFile> inputs;
  std::string program_version;
  Words words = {};  ///< in which it is said
};

/// Whether every simulation beside the record is valid; nothing where there is none.
std::optional<bool> simulation_valid(const MeasuredReport& report);

/// What makes figures doubtful, and what a reader should know.
std::vector<std::string> warnings_of(const MeasuredReport& report);
std::vector<std::string> notes_of(const MeasuredReport& report);

/// True where the record, or what it is set beside, is demo data.
bool invented(const MeasuredReport& report);

/// "taken as it was recorded, filtered at 20 Hz".
std::string filter_words(const MeasuredRecord& record, const Words& words);

/// "run 1, pantograph front".
std::string which_words(const MeasuredReport& report, const MeasuredRun& run,
                        const MeasuredPantograph& one);

/// For a terminal: UTF-8, no colour, at most 100 columns, with the cautions.
std::string measured_to_text(const MeasuredReport& report);

/// For scripts; fields in `docs/schema/measured.schema.json`.
nlohmann::ordered_json measured_to_json(const MeasuredReport& report);

/// Figures by span as comma-separated values: a heading with units, then a row a span, run by run,
/// pantograph by pantograph.
std::string spans_to_csv(const MeasuredReport& report);

/// Plots on A4 sheets across, all from one drawing: `measured.pdf`, and `measured-1.svg`,
/// `measured-1.png`, … one each.
std::vector<RenderedFile> render_measured(const MeasuredReport& report);

}  // namespace panup
