#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "stock/train.h"

namespace panup {

namespace {

constexpr std::array<std::string_view, 8> strip_material_names{"plain carbon",
                                                               "impregnated carbon",
                                                               "carbon with additive material",
                                                               "carbon with cladded copper",
                                                               "copper",
                                                               "copper alloy",
                                                               "copper steel",
                                                               "sintered copper"};

std::optional<int> whole_number(std::string_view text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || value < 1) {
    return std::nullopt;
  }
  return value;
}

}  // namespace

std::string_view name_of(StripMaterial material) {
  return strip_material_names.at(static_cast<std::size_t>(material));
}

std::optional<StripMaterial> strip_material_named(std::string_view name) {
  const auto* const found = std::ranges::find(strip_material_names, name);
  if (found == strip_material_names.end()) {
    return std::nullopt;
  }
  return static_cast<StripMaterial>(found - strip_material_names.begin());
}

std::string all_strip_material_names() {
  return fmt::format("{}", fmt::join(strip_material_names, ", "));
}

std::string_view name_of(PantographFrame frame) {
  return frame == PantographFrame::single_arm ? "single-arm" : "diamond";
}

std::optional<double> metallic_content_percent(const PantographType& type) {
  if (!type.metallic_content_percent && type.strip_material == StripMaterial::plain_carbon) {
    return 0;
  }
  return type.metallic_content_percent;
}

const PantographSupply* supply_of(const PantographType& type, EnergySupply supply) {
  const auto found = std::ranges::find(type.supplies, supply, &PantographSupply::supply);
  return found == type.supplies.end() ? nullptr : &*found;
}

bool is_for(const VehicleType& type, EnergySupply supply) {
  return std::ranges::find(type.power, supply, &PowerOnSupply::supply) != type.power.end() ||
         std::ranges::find(type.systems, supply) != type.systems.end();
}

std::string_view name_of(VehicleKind kind) {
  switch (kind) {
    case VehicleKind::locomotive:
      return "locomotive";
    case VehicleKind::electric_unit:
      return "electric unit";
    case VehicleKind::wagon_group:
      return "wagon group";
  }
  return {};
}

std::string_view name_of(LoadNature nature) {
  switch (nature) {
    case LoadNature::ordinary:
      return "ordinary";
    case LoadNature::dangerous:
      return "dangerous";
    case LoadNature::sensitive:
      return "sensitive";
  }
  return {};
}

namespace {

/// Of a train that may be changed, a vehicle that may be.
template <typename AnyTrain>
auto find_numbered(AnyTrain& train, int number)
    -> decltype(std::get_if<Vehicle>(&train.consist[0])) {
  for (auto& item : train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item);
        vehicle != nullptr && vehicle->number == number) {
      return vehicle;
    }
  }
  return nullptr;
}

}  // namespace

const Vehicle* vehicle_numbered(const Train& train, int number) {
  return find_numbered(train, number);
}

Vehicle* vehicle_numbered(Train& train, int number) { return find_numbered(train, number); }

bool has_pantograph(const Train& train, PantographRef ref) {
  const Vehicle* const vehicle = vehicle_numbered(train, ref.vehicle);
  return vehicle != nullptr && ref.pantograph >= 1 &&
         ref.pantograph <= static_cast<int>(vehicle->type->pantographs.size());
}

std::string to_string(PantographRef ref) {
  return fmt::format("{}.{}", ref.vehicle, ref.pantograph);
}

std::optional<PantographRef> pantograph_ref_from(std::string_view text) {
  const std::size_t dot = text.find('.');
  if (dot == std::string_view::npos) {
    return std::nullopt;
  }
  const std::optional<int> vehicle = whole_number(text.substr(0, dot));
  const std::optional<int> pantograph = whole_number(text.substr(dot + 1));
  if (!vehicle || !pantograph) {
    return std::nullopt;
  }
  return PantographRef{*vehicle, *pantograph};
}

double length_m(const ConsistItem& item) {
  if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
    return vehicle->type->length_m;
  }
  return std::get<LoadGroup>(item).length_m;
}

double length_m(const Train& train) {
  double sum = 0;
  for (const ConsistItem& item : train.consist) {
    sum += length_m(item);
  }
  return sum;
}

}  // namespace panup
