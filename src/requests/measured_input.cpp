#include "requests/measured_input.h"

#include <algorithm>
#include <filesystem>

#include "files/read_contact_line.h"
#include "files/read_measured_record.h"
#include "files/read_pantograph_model.h"
#include "requests/mechanics_input.h"
#include "requests/plan_input.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

void read_line(MeasuredInput& input, const FileSource& files, const Words& words,
               Diagnostics& diagnostics) {
  const std::string& path = input.record.contact_line;
  if (path.empty()) {
    input.not_simulated = words.say("the record names no contact line ('contact_line')");
    return;
  }
  input.line = read_contact_line_file(path, diagnostics, files);
  input.files.push_back({"line", path});
}

void read_models(MeasuredInput& input, const FileSource& files, const Words& words,
                 Diagnostics& diagnostics) {
  for (const RecordedPantograph& one : input.record.pantographs) {
    if (one.model.empty()) {
      if (input.not_simulated.empty()) {
        input.not_simulated =
            words.say("the record names no model of pantograph '{}' ('model')", one.id);
      }
      continue;
    }
    const bool again =
        std::ranges::find(input.files, one.model, &InputFile::path) != input.files.end();
    Diagnostics of_file;
    if (auto model = read_pantograph_model_file(one.model, of_file, files)) {
      input.models.push_back(std::move(*model));
    }
    if (!again) {
      diagnostics.insert(diagnostics.end(), of_file.begin(), of_file.end());
      input.files.push_back({"pantograph", one.model});
    }
  }
}

/// A line that is laid has supports, and is a tension length where none are stated.
void take_supports_from_line(MeasuredInput& input) {
  MeasuredRecord& record = input.record;
  if (!input.line || !record.contact_line_at_m || !record.tension_lengths.empty()) {
    return;
  }
  TensionLength length;
  length.id = input.line->id;
  for (const double at_m : support_positions(*input.line)) {
    length.supports_m.push_back(*record.contact_line_at_m + at_m);
  }
  record.tension_lengths.push_back(std::move(length));
}

}  // namespace

std::optional<std::ifstream> open_rows(const std::string& path, Diagnostics& diagnostics) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  const char* wrong = nullptr;
  if (!fs::exists(status)) {
    wrong = "there is no such file; 'file' names it as seen from the record's own file";
  } else if (fs::is_directory(status)) {
    wrong = "this is a folder, expected a file with rows";
  }
  std::ifstream stream;
  if (wrong == nullptr) {
    stream.open(path, std::ios::binary);
    wrong = stream ? nullptr : "it cannot be read";
  }
  if (wrong != nullptr) {
    diagnostics.push_back({{.file = path}, wrong});
    return std::nullopt;
  }
  return stream;
}

std::vector<RunningPantograph> simulated_pantographs(const MeasuredInput& input,
                                                     std::string& why_not) {
  why_not = input.not_simulated;
  if (!why_not.empty() || !input.line) {
    return {};
  }
  std::vector<RaisedOnLine> raised;
  for (std::size_t i = 0; i < input.record.pantographs.size(); ++i) {
    const RecordedPantograph& one = input.record.pantographs[i];
    raised.push_back({.model = i, .knuckle = one.knuckle, .behind_first_m = one.behind_first_m});
  }
  std::vector<std::string> mistakes;
  const Words& words = input.rules.words;
  auto running = running_pantographs(input.models, raised, input.record.supply,
                                     words.say("with 'system' in the record"), mistakes, words);
  if (!mistakes.empty()) {
    why_not = mistakes.front();
    return {};
  }
  return running;
}

std::optional<MeasuredInput> read_measured_input(const std::string& record,
                                                 const std::vector<std::string>& rules,
                                                 const FileSource& files, Diagnostics& diagnostics,
                                                 const Words& words) {
  const std::size_t mistakes = diagnostics.size();
  auto read = read_measured_record_file(record, diagnostics, files);
  auto book = read_rule_books(rules, std::string(), diagnostics, files);
  MeasuredInput input;
  input.files.push_back({"record", record});
  if (read) {
    input.record = std::move(*read);
    read_line(input, files, words, diagnostics);
    read_models(input, files, words, diagnostics);
    for (const RecordRun& run : input.record.runs) {
      input.files.push_back({"rows", run.file});
    }
  }
  if (!book || diagnostics.size() != mistakes) {
    return std::nullopt;
  }
  input.rules = said_in(std::move(*book), words);
  for (const std::string& path : rules) {
    input.files.push_back({"rule book", path});
  }
  take_supports_from_line(input);
  return input;
}

std::optional<MeasuredReport> evaluate_record(const MeasuredInput& input,
                                              std::string_view program_version,
                                              Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  MeasuredReport report;
  const std::vector<RunningPantograph> pantographs =
      simulated_pantographs(input, report.not_compared);
  const MeasuredRecord& record = input.record;
  std::optional<ComparedStretches> stretches;
  if (!pantographs.empty()) {
    stretches = compared_stretches(record, *input.line, pantographs);
  }
  for (std::size_t i = 0; i < record.runs.size(); ++i) {
    if (auto stream = open_rows(record.runs[i].file, diagnostics)) {
      if (auto run = evaluate_run(*stream, record, i, stretches, diagnostics)) {
        report.runs.push_back(std::move(*run));
      }
    }
  }
  if (diagnostics.size() != mistakes) {
    return std::nullopt;
  }
  const ContactLine* const line = input.line ? &*input.line : nullptr;
  report.judged = judge_record(input.rules, record, report.runs, line);
  report.criteria = criteria_of_record(input.rules, record, line);
  report.not_judged = not_judged_of_record(input.rules, record, line);
  for (std::size_t i = 0; i < report.runs.size() && !pantographs.empty(); ++i) {
    report.compared.push_back(
        compare_run(record, *input.line, pantographs, report.runs, i, input.rules.words));
  }
  report.record = record;
  report.line = input.line;
  report.rule_books = input.rules.names;
  report.inputs = input.files;
  report.program_version = program_version;
  report.words = input.rules.words;
  return report;
}

}  // namespace panup
