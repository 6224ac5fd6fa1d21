#pragma once

#include <string>
#include <vector>

#include "files/kept_values.h"
#include "register_rows/place_separations.h"

namespace panup {

/// What stands at the head of a network made from the register.
struct NetworkHead {
  std::string id;
  std::string name;
  std::string made_at;
  std::string answered;  ///< the day of answers that do not state theirs; may be empty
  const RegisterRows* sections = nullptr;
  const RegisterRows* separations = nullptr;
  std::vector<KeptValue>* kept = nullptr;  ///< to be taken over; what came of it is written there
};

/// The text of a file of kind "network". Comments say where each section comes from, what the
/// register does not say of it and what a person should look at.
std::string network_text(const NetworkHead& head, const std::vector<ChainedLine>& lines,
                         const std::vector<RegisterSection>& sections,
                         const std::vector<PlacedSeparation>& separations);

}  // namespace panup
