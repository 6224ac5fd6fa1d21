#pragma once

#include <string>

#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// A day of the library as its file and its table say: its trains, and what they share. Nothing is
/// planned.
Reply reply_to_day(const std::string& path, const PlanningPlace& place);

}  // namespace panup
