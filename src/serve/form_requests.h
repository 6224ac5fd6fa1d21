#pragma once

#include <string>

#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// The keys of every kind of file that a form writes.
Reply reply_to_forms();

/// A text with changes made to it, what it says then, and what the readers find wrong with it, each
/// mistake with the key that it is about. Nothing is written.
Reply reply_to_form(const std::string& body, const PlanningPlace& place);

}  // namespace panup
