#pragma once
/// The room `comparison`: whether a plan handed out earlier still says what today's plan says. The
/// earlier one is read from the JSON it was written as, with all mistakes told; today's goes the
/// same way, so that both are looked at with the same eyes.

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/handed_out.h"
#include "base/source_text.h"
#include "plan/run_plan.h"

namespace panup {

/// What a plan as JSON says of a stretch of route.
struct SaidSection {
  double from_km = 0;
  double to_km = 0;
  std::string answer;
  std::string lowered_for;
  std::vector<std::string> raised;
  std::vector<int> put_dead_in_tow;
  double speed_kmh = 0;
};

struct SaidFinding {
  std::string rule;
  std::string strength;
  std::string text;
  std::string source;
  friend bool operator==(const SaidFinding&, const SaidFinding&) = default;
};

struct SaidInstruction {
  double at_km = 0;
  std::string text;
  std::string if_not_possible;
  friend bool operator==(const SaidInstruction&, const SaidInstruction&) = default;
};

/// What is done where a pantograph fails.
struct SaidContingency {
  std::string failed;
  nlohmann::json what;  ///< configurations, speeds and texts; compared whole
};

/// What people rely on in a plan, as its JSON says it.
// Moving JSON values throws nothing: its move constructor is noexcept.
// NOLINTNEXTLINE(bugprone-exception-escape)
struct SaidPlan {
  std::string program_version;
  std::string language;  ///< in which its texts are
  std::string answer;
  std::string speed_from;
  std::string holds_until;  ///< YYYY-MM-DD; empty: not stated
  nlohmann::json train;
  nlohmann::json route;
  nlohmann::json conditions;
  std::vector<InputFile> inputs;
  std::vector<std::string> rule_books;
  std::vector<SaidSection> sections;
  std::vector<SaidFinding> findings;  ///< of all sections, each once
  std::vector<SaidInstruction> instructions;
  std::vector<SaidContingency> contingencies;
  std::vector<std::string> notes;
};

/// The same of a train from departure to arrival: of each part, in order; at least one.
using SaidRun = std::vector<SaidPlan>;

/// Reads a plan as `plan_to_json` writes it, which is one part, or as `run_to_json` does, of this
/// version or an earlier one. Nothing, and at least one diagnostic, if it is not JSON or no such
/// plan.
std::optional<SaidRun> read_plan_json(const SourceText& source, Diagnostics& diagnostics);

/// What a plan says, by way of its JSON.
SaidRun said_by(const RunPlan& run);

}  // namespace panup
