#pragma once

#include <string>
#include <vector>

#include "base/words.h"
#include "judging/facts/pantograph_set.h"
#include "stock/train.h"

namespace panup {

class Judge;

/// A load that is to be protected, and is not: the working vehicle nearest ahead of it has
/// something up on its rear half.
struct ExposedLoad {
  std::string load;
  LoadNature nature{};
  std::vector<PantographRef> to;  ///< what is up there, front first
  friend bool operator==(const ExposedLoad&, const ExposedLoad&) = default;
};

/// The loads that are exposed with `raised` up, front first. None where no rule protects them.
std::vector<ExposedLoad> exposed_loads(const Judge& judge, PantographSet raised);

/// "dangerous load (petrol in tank wagons) is exposed to dust and sparks of 2.1", to follow "the".
std::string exposure_words(const ExposedLoad& exposed, const Words& words);

}  // namespace panup
