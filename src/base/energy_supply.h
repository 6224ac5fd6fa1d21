#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace panup {

/// The energy supply systems of EN 50163 that main lines use.
enum class EnergySupply : std::uint8_t { ac_15kv, ac_25kv, dc_3kv, dc_1500v };

inline constexpr std::array all_energy_supplies{EnergySupply::ac_15kv, EnergySupply::ac_25kv,
                                                EnergySupply::dc_3kv, EnergySupply::dc_1500v};

/// The name used in files, JSON and text: "AC 15 kV 16.7 Hz", "AC 25 kV 50 Hz", "DC 3 kV",
/// "DC 1.5 kV".
std::string_view name_of(EnergySupply supply);

/// A form that fits a narrow column of the card: "15 kV 16.7 Hz", "25 kV 50 Hz", "3 kV DC",
/// "1.5 kV DC".
std::string_view short_name_of(EnergySupply supply);

/// The inverse of `name_of`; nothing if the name is not known.
std::optional<EnergySupply> energy_supply_named(std::string_view name);

constexpr bool is_ac(EnergySupply supply) {
  return supply == EnergySupply::ac_15kv || supply == EnergySupply::ac_25kv;
}

}  // namespace panup
