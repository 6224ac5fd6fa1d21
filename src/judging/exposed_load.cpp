#include "judging/exposed_load.h"

#include "judging/judge.h"

namespace panup {

std::vector<ExposedLoad> exposed_loads(const Judge& judge, PantographSet raised) {
  const RunningTrain& train = judge.train();
  const std::vector<VehicleRole>& roles = judge.roles(raised);
  std::vector<ExposedLoad> exposed;
  for (std::size_t v = 0; v < train.vehicles.size(); ++v) {
    const PantographSet wrong = raised & train.vehicles[v].rear_half;
    if (wrong.empty()) {
      continue;
    }
    for (const std::size_t item : roles[v].protects) {
      const std::size_t index = train.layout.items[item].consist_index;
      const auto& load = std::get<LoadGroup>(train.train->consist[index]);
      exposed.push_back({load.name, load.nature, refs_of(train, wrong)});
    }
  }
  return exposed;
}

std::string exposure_words(const ExposedLoad& exposed, const Words& words) {
  std::vector<std::string> to;
  for (const PantographRef ref : exposed.to) {
    to.push_back(to_string(ref));
  }
  return words.say("{} load ({}) is exposed to dust and sparks of {}",
                   words.named(name_of(exposed.nature)), exposed.load, words.listed(to));
}

}  // namespace panup
