#pragma once

#include <mutex>
#include <string>

#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// All files of the library, and all vehicle types. `card_register`: where issued cards are kept;
/// empty: nowhere.
Reply reply_to_library(const PlanningPlace& place, const std::string& card_register);
/// One file.
Reply reply_to_file(const std::string& path, const PlanningPlace& place);
/// Books of the library, which a new one may build on.
std::vector<SourceText> rule_books_of(const PlanningPlace& place);
/// Writes a file without mistakes, whole or not at all, if the one it replaces is still the same.
/// Without a text that one is removed.
Reply reply_to_writing(const std::string& body, const PlanningPlace& place, std::mutex& writing);

}  // namespace panup
