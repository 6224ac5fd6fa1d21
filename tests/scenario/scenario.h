#pragma once
/// Trains and lines for the practice cases, put together in a line or two, so that a test reads as
/// the case it is.

#include <limits>
#include <string>
#include <vector>

#include "plan/make_plan.h"

namespace panup::scenario {

struct Roof {
  int strips = 2;
  PantographFrame frame = PantographFrame::single_arm;
  std::vector<EnergySupply> supplies{EnergySupply::ac_15kv};
};

/// A pantograph type with 1950 mm head and plain carbon strips, 700 A, 200 km/h.
inline constexpr double endless = std::numeric_limits<double>::infinity();

std::shared_ptr<const PantographType> pantograph(const Roof& roof);

/// A locomotive type of 19 m with a pantograph at 4.5 m and one at 14.5 m from cab 1, 160 km/h.
std::shared_ptr<const VehicleType> locomotive(const Roof& roof = {});
/// The same with one pantograph only, at 4.5 m from cab 1.
std::shared_ptr<const VehicleType> one_pantograph_locomotive(const Roof& roof = {});
/// The same with four: 1 and 4 for 15 kV, 2 and 3 for 3 kV DC; or all four for 15 kV.
std::shared_ptr<const VehicleType> four_pantograph_locomotive(bool all_for_one_system = false);
/// Of two pantographs, number 1 is for 15 kV and number 2 for 3 kV DC.
std::shared_ptr<const VehicleType> one_for_each_system_locomotive();
/// An electric unit of 75 m with pantographs at 15 and 60 m from cab 1.
std::shared_ptr<const VehicleType> electric_unit();

/// A case in the making. Vehicles are numbered as they are added, from the front.
struct Scenario {
  PlanRequest request;

  Scenario();

  Scenario& add(const std::shared_ptr<const VehicleType>& type, Cab leading_cab = Cab::cab1);
  Scenario& load(LoadNature nature, double length_m = 300);
  Scenario& dead(int vehicle);
  Scenario& defect(PantographRef ref);
  Scenario& ice();
  /// The first section; the only one unless the line was cut.
  Section& section();
  /// Cuts the last section, of which there may be several, at a place on it. The part behind is a
  /// section of its own, alike, with the id s2, s3 and so on.
  Section& cut_at(double km);
  /// The line's own record: so many, at 5 m or more, at line speed.
  Scenario& permits(int number);
  Rule& rule(const std::string& id);
  Vehicle& vehicle(int number);

  /// Makes the plan; the request must have nothing wrong.
  Plan plan() const;
};

/// A consent of the infrastructure manager for so many raised, at that distance or more, on the
/// whole route.
Consent consent_for(int number, double distance_m, double speed_kmh);

/// A zone whose supply is not stated, in metres from the start of its separation section.
SeparationZone zone(ZoneKind kind, double from_m, double to_m, const std::string& phase = "");

/// What is up on a section of the plan, as practice says it: "F1 R2" is the front pantograph of the
/// first vehicle and the rear one of the second, counted in the direction of travel over vehicles
/// not dead from the start, and over pantographs for the section's system. A vehicle with one of
/// these: "U1". Others than foremost and rearmost: "M1".
std::string up_on(const Plan& plan, std::size_t section = 0);

/// Whether the section's findings hold one of this rule (and this strength, if given).
bool says(const PlannedSection& section, const std::string& rule);
bool says(const PlannedSection& section, const std::string& rule, Strength strength);

/// Whether it says that a load is exposed to dust and sparks.
bool says_exposed(const PlannedSection& section);

}  // namespace panup::scenario
