#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "files/document.h"
#include "stock/vehicle.h"

namespace panup {

/// Pantograph and vehicle types, as one or several stock files define them.
struct Stock {
  std::vector<std::shared_ptr<const PantographType>> pantographs;
  std::vector<std::shared_ptr<const VehicleType>> vehicles;
  IdPlaces pantograph_ids;  ///< of all types, those with mistakes included
  IdPlaces vehicle_ids;
  /// Pantograph types that vehicle types name and no file has, by the file that names them.
  std::map<std::string, std::set<std::string>> missing_pantographs;
  /// Every file could be read, and every type has an id. Where not, an id that is not known is no
  /// mistake of whoever names it.
  bool ids_are_complete = true;
};

/// Where the pantograph types that vehicle types name are to be found.
enum class PantographTypes : std::uint8_t {
  among_these,   ///< in the files that are read; a name that none of them has is a mistake
  not_looked_up  ///< perhaps in others; a vehicle type with such a name is left out of the result
};

/// Reads stock files into one stock. Vehicle types may use pantograph types of any of them. Types
/// with mistakes are left out of the result; their ids count as known, so that one mistake is
/// reported once.
Stock read_stock(const std::vector<SourceText>& sources, Diagnostics& diagnostics,
                 PantographTypes types = PantographTypes::among_these);

}  // namespace panup
