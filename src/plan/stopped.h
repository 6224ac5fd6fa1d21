#pragma once

#include <exception>

#include "plan/make_plan.h"

namespace panup {

/// A plan for which nobody waits any more. Thrown from wherever long work comes by, and caught
/// where planning began: it never leaves this room.
struct PlanningStopped : std::exception {};

inline void end_if_stopped(const PlanRequest& request) {
  if (request.stopped && request.stopped()) {
    throw PlanningStopped();
  }
}

}  // namespace panup
