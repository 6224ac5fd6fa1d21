#pragma once

#include <optional>
#include <string>
#include <vector>

#include "register_rows/chain_lines.h"

namespace panup {

/// How a network is made from the register.
struct FromRegister {
  std::string id;
  std::string name;
  std::string track;  ///< that counts where a section has it; empty: the strictest of all
  std::string made_at;
  LineStarts starts;
  bool no_other_separations = false;  ///< see `place_separations`
};

struct RegisterNetwork {
  std::string text;  ///< of the file
  std::vector<ChainedLine> lines;
  std::size_t sections = 0;
  std::size_t separations = 0;
};

/// Makes a network of the answers to the two queries. Nothing, and `mistakes`, where none can be
/// made; else it reads back without mistakes. `notes`: what a person should look at.
std::optional<RegisterNetwork> network_from_register(const RegisterRows& sections,
                                                     const RegisterRows& separations,
                                                     const FromRegister& how, Diagnostics& mistakes,
                                                     Diagnostics& notes);

}  // namespace panup
