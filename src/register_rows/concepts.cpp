#include "register_rows/concepts.h"

#include <algorithm>
#include <array>
#include <span>

namespace panup {

namespace {

template <typename Meaning>
struct Listed {
  std::string_view code;
  std::optional<Meaning> meaning;
};

constexpr std::string_view tsi_heads_scheme = "compliant-pantograph-heads";
constexpr std::string_view other_heads_scheme = "other-pantograph-heads";

struct ConceptName {
  std::string_view scheme;
  std::string_view code;
};

std::optional<ConceptName> name_in(std::string_view iri) {
  for (const std::string_view protocol : {"http://", "https://"}) {
    if (iri.starts_with(protocol)) {
      iri.remove_prefix(protocol.size());
    }
  }
  constexpr std::string_view concepts = "data.europa.eu/949/concepts/";
  if (!iri.starts_with(concepts)) {
    return std::nullopt;
  }
  iri.remove_prefix(concepts.size());
  const std::size_t slash = iri.find('/');
  if (slash == std::string_view::npos) {
    return std::nullopt;
  }
  const std::string_view scheme = iri.substr(0, slash);
  std::string_view code = iri.substr(slash + 1);
  if (code.starts_with("rinf/")) {
    code.remove_prefix(5);
  }
  return ConceptName{scheme, code};
}

/// `scheme`: empty where any is taken but those of heads.
template <typename Meaning>
Concept<Meaning> looked_up(std::string_view cell, std::string_view scheme,
                           std::span<const Listed<Meaning>> list) {
  const auto name = name_in(cell);
  const bool fits = name && (scheme.empty() ? name->scheme != tsi_heads_scheme &&
                                                  name->scheme != other_heads_scheme
                                            : name->scheme == scheme);
  if (!fits) {
    return {};
  }
  const auto found = std::ranges::find(list, name->code, &Listed<Meaning>::code);
  return found == list.end() ? Concept<Meaning>{} : Concept<Meaning>{true, found->meaning};
}

constexpr std::array<Listed<bool>, 4> line_types{
    {{"10", true}, {"20", false}, {"30", false}, {"40", false}}};

constexpr std::array<Listed<EnergySupply>, 7> supplies{{{"AC10", EnergySupply::ac_25kv},
                                                        {"AC20", EnergySupply::ac_15kv},
                                                        {"DC30", EnergySupply::dc_3kv},
                                                        {"DC40", EnergySupply::dc_1500v},
                                                        {"DC60", std::nullopt},
                                                        {"DC70", std::nullopt},
                                                        {"DC80", std::nullopt}}};

constexpr std::array<Listed<HeadType>, 5> tsi_heads{
    {{"10", HeadType::w1950_type_1},
     {"20", HeadType::w1600_ep},
     {"30", HeadType::w2000_to_2260},
     {"40", std::nullopt},
     {"50", HeadType::w1950_type_1_insulated_horns}}};

constexpr std::array<Listed<HeadType>, 8> other_heads{{{"10", HeadType::w1950_type_2},
                                                       {"20", HeadType::w1950_pl},
                                                       {"30", HeadType::w1800_no_se},
                                                       {"40", HeadType::w1760_be},
                                                       {"50", HeadType::w1600_gb_ctrl},
                                                       {"60", HeadType::w1600_gb},
                                                       {"80", std::nullopt},
                                                       {"90", std::nullopt}}};

// By the names of the classes; how the register writes their codes was not looked up.
constexpr std::array<Listed<TemperatureRange>, 4> temperature_ranges{
    {{"T1", TemperatureRange::t1},
     {"T2", TemperatureRange::t2},
     {"T3", TemperatureRange::t3},
     {"Tx", TemperatureRange::tx}}};

constexpr std::array<Listed<StripMaterial>, 9> strips{
    {{"10", StripMaterial::copper},
     {"20", StripMaterial::plain_carbon},
     {"30", StripMaterial::copper_steel},
     {"40", StripMaterial::copper_alloy},
     {"50", StripMaterial::impregnated_carbon},
     {"60", StripMaterial::carbon_with_additive},
     {"70", StripMaterial::carbon_with_cladded_copper},
     {"80", StripMaterial::sintered_copper},
     {"90", std::nullopt}}};

}  // namespace

std::string_view last_segment(std::string_view iri) {
  while (iri.ends_with('/')) {
    iri.remove_suffix(1);
  }
  const std::size_t cut = iri.find_last_of("/#");
  return cut == std::string_view::npos ? iri : iri.substr(cut + 1);
}

Concept<bool> has_overhead_line(std::string_view cell) {
  return looked_up<bool>(cell, "", line_types);
}
Concept<EnergySupply> supply_meant(std::string_view cell) {
  return looked_up<EnergySupply>(cell, "", supplies);
}
Concept<HeadType> tsi_head_meant(std::string_view cell) {
  return looked_up<HeadType>(cell, tsi_heads_scheme, tsi_heads);
}
Concept<HeadType> other_head_meant(std::string_view cell) {
  return looked_up<HeadType>(cell, other_heads_scheme, other_heads);
}
Concept<TemperatureRange> temperature_range_meant(std::string_view cell) {
  return looked_up<TemperatureRange>(cell, "", temperature_ranges);
}
Concept<StripMaterial> strip_meant(std::string_view cell) {
  return looked_up<StripMaterial>(cell, "", strips);
}

}  // namespace panup
