#include "base/energy_supply.h"

#include <algorithm>

namespace panup {

std::string_view name_of(EnergySupply supply) {
  switch (supply) {
    case EnergySupply::ac_15kv:
      return "AC 15 kV 16.7 Hz";
    case EnergySupply::ac_25kv:
      return "AC 25 kV 50 Hz";
    case EnergySupply::dc_3kv:
      return "DC 3 kV";
    case EnergySupply::dc_1500v:
      return "DC 1.5 kV";
  }
  return {};
}

std::string_view short_name_of(EnergySupply supply) {
  switch (supply) {
    case EnergySupply::ac_15kv:
      return "15 kV 16.7 Hz";
    case EnergySupply::ac_25kv:
      return "25 kV 50 Hz";
    case EnergySupply::dc_3kv:
      return "3 kV DC";
    case EnergySupply::dc_1500v:
      return "1.5 kV DC";
  }
  return {};
}

std::optional<EnergySupply> energy_supply_named(std::string_view name) {
  const auto* const found = std::ranges::find(all_energy_supplies, name,
                                              [](EnergySupply supply) { return name_of(supply); });
  if (found == all_energy_supplies.end()) {
    return std::nullopt;
  }
  return *found;
}

}  // namespace panup
