#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "files/named_files.h"

namespace panup {

/// What practice answers to a case.
enum class CaseAnswer : std::uint8_t {
  permitted,
  consent_needed,
  forbidden,         ///< nothing may be raised so
  both_alternatives  ///< permitted as a last resort, or a locomotive goes dead in tow
};

inline constexpr std::array<std::string_view, 4> case_answer_names{
    "permitted", "consent needed", "forbidden", "both alternatives"};

struct InLanguages {
  std::string en;
  std::string de;
};

/// A train on a line, and what is expected of it.
struct PracticeCase {
  std::string id;
  std::string of;      ///< the case of working practice: "P6"
  InLanguages title;   ///< does not give the answer away
  InLanguages source;  ///< of what is expected; that of all cases where it states none
  FileNamed train;
  FileNamed route;
  std::optional<FileNamed> conditions;
  /// As practice says it: "F1 R2"; "none".
  std::string raised;
  std::vector<std::string> pantographs;  ///< the same by number, as in "1.2"; empty: not stated
  std::vector<int> put_dead_in_tow;
  CaseAnswer answer{};
  std::optional<double> speed_kmh;
  std::string speed_rule;
  std::optional<double> least_distance_m;  ///< between adjacent raised ones
  std::vector<std::string> keeps;          ///< rules that have to be kept, and said
  std::vector<std::string> gives_up;       ///< rules that cannot be kept, which has to be said
  std::vector<std::string> says;           ///< rules that have to say something
  SourcePlace place;
};

struct PracticeCases {
  std::string name;
  bool invented = false;
  InLanguages source;            ///< of what is expected, in words
  std::vector<FileNamed> rules;  ///< rule books after the built-in one
  std::vector<PracticeCase> cases;
};

/// Reads a file of kind "practice cases"; no file that it names is looked at. Nothing, and
/// diagnostics, where anything is wrong.
std::optional<PracticeCases> read_practice_cases(const SourceText& source,
                                                 Diagnostics& diagnostics);

/// Every file that it names.
std::vector<FileNamed> files_named_by(const PracticeCases& cases);

}  // namespace panup
