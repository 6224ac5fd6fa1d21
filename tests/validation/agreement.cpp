#include "agreement.h"

namespace panup::validation {

Row figure(std::string what, std::string unit, double ours, double theirs, double allowed) {
  return {std::move(what), std::move(unit), ours, theirs, theirs, allowed};
}

const std::vector<NamedAgreement>& all_agreements() {
  static const std::vector<NamedAgreement> all{
      {"NaturalFrequencies", natural_frequencies},
      {"SagAndElasticity", sag_and_elasticity},
      {"MovingForce", moving_force},
      {"StringOnFoundation", string_on_foundation},
      {"Waves", waves},
      {"Energy", energy},
      {"OdeLibrary", ode_library},
      {"Convergence", convergence},
      {"ReferenceModel", reference_model},
      {"Filter", filter},
      {"TwoPantographs", two_pantographs, two_pantographs_without_picture},
      {"PermittedSpeed", permitted_speed, permitted_speed_in_part},
      {"PublishedDesigns", published_designs, nullptr, true}};
  return all;
}

}  // namespace panup::validation
