#pragma once

#include <string>

#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// What files that were dropped on the page would make of a file of the library, by the code of the
/// commands: answers of the register a network, tables a stock file, a message a train, a file of
/// our own form what it says. Nothing is written. `place`: the library that it would go to.
Reply reply_to_taking_in(const std::string& body, const PlanningPlace& place);

}  // namespace panup
