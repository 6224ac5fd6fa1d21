#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/kept_values.h"
#include "register_rows/chain_lines.h"
#include "register_rows/network_changes.h"

namespace panup {

/// How a network is made from the register.
struct FromRegister {
  std::string id;
  std::string name;
  std::string track;  ///< that counts where a section has it; empty: the strictest of all
  std::string made_at;
  std::string answered;  ///< the day of answers that do not state theirs; may be empty
  LineStarts starts;
  bool no_other_separations = false;    ///< see `place_separations`
  std::vector<KeptValue> kept = {};     ///< of the network that is there
  std::vector<KeptTable> by_hand = {};  ///< likewise
};

/// The values of a network that stay when it is made of the register again: those that come from
/// elsewhere.
std::vector<KeptValue> kept_of_network(const SourceText& there);

struct RegisterNetwork {
  std::string text;  ///< of the file
  std::vector<ChainedLine> lines;
  std::size_t sections = 0;
  std::size_t separations = 0;
  std::vector<KeptValue> kept;     ///< as asked for, with what came of each
  std::vector<KeptTable> by_hand;  ///< likewise
};

/// Makes a network of the answers to the two queries. Nothing, and `mistakes`, where none can be
/// made; else it reads back without mistakes. `notes`: what a person should look at.
std::optional<RegisterNetwork> network_from_register(const RegisterRows& sections,
                                                     const RegisterRows& separations,
                                                     const FromRegister& how, Diagnostics& mistakes,
                                                     Diagnostics& notes);

}  // namespace panup
