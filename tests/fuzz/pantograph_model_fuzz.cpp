#include <cmath>

#include "files/read_pantograph_model.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Diagnostics diagnostics;
  const auto model = panup::read_pantograph_model(panup::fuzzed_source(data, size), diagnostics);
  panup::require_sound(model.has_value(), diagnostics);
  if (!model) {
    return 0;
  }
  if (model->masses.empty() || model->masses.size() > 4) {
    panup::fail("a model has one to four masses");
  }
  for (std::size_t i = 0; i < model->masses.size(); ++i) {
    const panup::PantographMass& mass = model->masses[i];
    if (!(mass.mass_kg > 0) || !(mass.damping_ns_per_m >= 0) ||
        !std::isfinite(mass.stiffness_n_per_m) ||
        (i + 1 < model->masses.size() && !(mass.stiffness_n_per_m > 0))) {
      panup::fail("every mass weighs something, and stands on a spring if not the lowest");
    }
  }
  if (!model->static_force_n && model->static_forces.empty()) {
    panup::fail("some static force is given");
  }
  return 0;
}
