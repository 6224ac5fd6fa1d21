#pragma once

#include <string>
#include <vector>

#include "plan/make_plan.h"
#include "requests/run_input.h"

namespace panup {

/// "Why are these pantographs not up at this place?"
struct WhyQuestion {
  std::vector<PantographRef> asked;  ///< empty: all down
  double at_km = 0;
};

/// Adds a pantograph, named as in "1.2", to what is asked. What is wrong with it, or empty.
std::string ask_for(std::string_view name, const Train& train, WhyQuestion& question);

/// What is wrong with a place on the route, or empty.
std::string wrong_with_place(double at_km, const Route& route);
/// The same of the whole way of a train.
std::string wrong_with_place(double at_km, const RunInput& run);

}  // namespace panup
