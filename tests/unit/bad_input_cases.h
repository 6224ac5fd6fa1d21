#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "files/document.h"

namespace panup {

/// One mistake made in a text that is right.
struct BadInput {
  const char* name;  ///< of the case
  FileKind kind{};
  std::string change;  ///< stands once in the right text
  std::string into;    ///< what replaces it; '@' marks where the mistake is, and is taken out
  std::string text;    ///< the message; after a leading "...", a part of it
  /// Where no '@' stands: the mistake is where this text begins. Empty: at the file's beginning.
  std::string at = "";
};

/// A text of each kind without a mistake.
std::string_view right_text(FileKind kind);

/// What the reader of that kind says of a text. The other files it needs are the right ones.
Diagnostics mistakes_of(FileKind kind, const std::string& text);

std::vector<BadInput> bad_stock_cases();
std::vector<BadInput> bad_train_cases();
std::vector<BadInput> bad_route_cases();
std::vector<BadInput> bad_separation_cases();
std::vector<BadInput> bad_geometry_cases();
std::vector<BadInput> bad_running_cases();
std::vector<BadInput> bad_conditions_cases();
std::vector<BadInput> bad_rule_book_cases();
std::vector<BadInput> bad_contact_line_cases();
std::vector<BadInput> bad_pantograph_model_cases();
std::vector<BadInput> bad_consents_cases();
std::vector<BadInput> bad_practice_cases();
std::vector<BadInput> bad_measured_force_cases();
std::vector<BadInput> bad_speed_table_cases();
std::vector<BadInput> bad_day_cases();
std::vector<BadInput> bad_defects_cases();
std::vector<BadInput> bad_what_if_cases();
std::vector<BadInput> bad_network_cases();
std::vector<BadInput> bad_run_cases();

}  // namespace panup
