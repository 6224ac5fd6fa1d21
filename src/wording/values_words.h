#pragma once

#include <span>
#include <string>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// Adds the values that are not there yet.
void add_values(const std::vector<DecidingValue>& more, std::vector<DecidingValue>& values);

/// Values of one key of one sort of thing, from one source.
struct ValuesAlike {
  std::string what;    ///< "'raised' of sections a1 and a3"
  std::string source;  ///< in words; empty: none is stated
};

std::vector<ValuesAlike> values_alike(std::span<const DecidingValue> values, const Words& words);

/// "'raised' of section a3: document: NT 12/2030; …": where those come from of which it is stated;
/// empty where it is of none.
std::string where_from_words(std::span<const DecidingValue> values, const Words& words);

/// The values that the findings of a plan rest on.
std::vector<DecidingValue> deciding_values(const Plan& plan);

}  // namespace panup
