#pragma once

#include <optional>
#include <string_view>

#include "base/energy_supply.h"
#include "line/route.h"
#include "stock/head_type.h"
#include "stock/pantograph.h"

namespace panup {

/// What a cell with a concept of the ERA vocabulary says (http://data.europa.eu/949/concepts/,
/// ontology 3.1.0, CC BY 4.0): http://data.europa.eu/949/concepts/SCHEME/[rinf/]CODE, where
/// `/rinf/` is there in version 3.0 and partly dropped in 3.1. So scheme and last segment count.
/// The schemes of heads are checked; the names of the others were not read, and any is taken.
template <typename Meaning>
struct Concept {
  bool known = false;              ///< else the cell is no concept that is listed here
  std::optional<Meaning> meaning;  ///< none: known, but nothing that panup has a word for
};

/// The last segment of an IRI, or the text itself.
std::string_view last_segment(std::string_view iri);

/// Parameter 1.1.1.2.2.1.1: whether there is an overhead contact line.
Concept<bool> has_overhead_line(std::string_view cell);
/// 1.1.1.2.2.1.2. DC 750, 650 and 600 V are known, and no system of panup's.
Concept<EnergySupply> supply_meant(std::string_view cell);
/// 1.1.1.2.3.1
Concept<HeadType> tsi_head_meant(std::string_view cell);
/// 1.1.1.2.3.2
Concept<HeadType> other_head_meant(std::string_view cell);
/// 1.1.1.1.2.6
Concept<TemperatureRange> temperature_range_meant(std::string_view cell);
/// 1.1.1.2.3.4
Concept<StripMaterial> strip_meant(std::string_view cell);

}  // namespace panup
