#pragma once
/// The room `stock`: what runs. Pantograph types, vehicle types, and the train made up of them, as
/// plain values with all references already resolved. Nothing here knows of lines or rules.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/energy_supply.h"
#include "base/provenance.h"
#include "stock/head_type.h"

namespace panup {

/// Contact strip materials, in the words of the EU vehicle register.
enum class StripMaterial : std::uint8_t {
  plain_carbon,
  impregnated_carbon,
  carbon_with_additive,
  carbon_with_cladded_copper,
  copper,
  copper_alloy,
  copper_steel,
  sintered_copper,
};

/// "plain carbon", "impregnated carbon", "carbon with additive material", "carbon with cladded
/// copper", "copper", "copper alloy", "copper steel", "sintered copper".
std::string_view name_of(StripMaterial material);
std::optional<StripMaterial> strip_material_named(std::string_view name);
/// All names, comma-separated, for messages.
std::string all_strip_material_names();

enum class PantographFrame : std::uint8_t { single_arm, diamond };

/// "single-arm", "diamond".
std::string_view name_of(PantographFrame frame);

/// What a pantograph type can do on one energy supply system.
struct PantographSupply {
  EnergySupply supply{};
  double static_force_n = 0;        ///< force on the wire at standstill
  double running_current_a = 0;     ///< greatest current while running
  double standstill_current_a = 0;  ///< greatest current at standstill
};

/// A type of pantograph: all that is the same for every one of its kind on any roof.
struct PantographType {
  std::string id;
  std::string name;
  double head_width_mm = 0;
  std::optional<HeadType> head_type = {};  ///< may not be known
  /// Of the head, across the track: within it the wire may run; may not be known.
  std::optional<double> working_width_mm;
  int strip_count = 0;  ///< contact strips on the collector head; 1 is "single-strip"
  /// Along the track, from the first contact strip's edge to the last one's; may not be known.
  std::optional<double> strip_length_along_track_mm;
  std::optional<double> greatest_current_per_strip_a;  ///< while running; none: by the rating alone
  StripMaterial strip_material{};
  std::optional<double> metallic_content_percent = {};  ///< of the strips; may not be known
  PantographFrame frame{};
  /// What its mean contact force grows by with the square of the speed, the greater of knuckle
  /// leading and trailing; may not be known.
  std::optional<double> aerodynamic_n_per_kmh2 = {};
  std::vector<PantographSupply> supplies;  ///< the systems it is for; at least one
  double highest_speed_kmh = 0;
  bool automatic_dropping_device = false;
  double working_height_min_m = 0;   ///< least height of the wire above rail it can follow
  double working_height_max_m = 0;   ///< greatest such height
  double raising_time_s = 0;         ///< from the command to contact
  double lowering_time_s = 0;        ///< from the command to clear of the wire
  std::string dynamic_model;         ///< id of its mechanical model; may be empty
  std::string dynamic_model_folder;  ///< path of the folder that has the model's file; may be empty
  Provenance provenance = {};
  SourcePlace place;
};

/// The metallic content of the strips: as stated, or none where they are of plain carbon, which has
/// none; nothing where it is not known.
std::optional<double> metallic_content_percent(const PantographType& type);

/// What `type` can do on `supply`, or null if it is not for it.
const PantographSupply* supply_of(const PantographType& type, EnergySupply supply);

}  // namespace panup
