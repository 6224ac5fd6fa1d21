#pragma once

#include <gtest/gtest.h>

#include <utility>

#include "dynamics/simulate.h"

namespace panup {

/// The result of a run that has one; where it is refused, the test fails.
inline SimulationResult result_of(const SimulationRequest& request) {
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    ADD_FAILURE() << outcome.refusals.front().said();
    return {};
  }
  return std::move(*outcome.result);
}

}  // namespace panup
