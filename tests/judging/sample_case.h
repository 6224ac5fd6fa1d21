#pragma once
/// A train under its wire for tests of judging, put together in a line or two. Nothing of it is
/// looked up in files but the built-in rule book.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "judging/judge.h"

namespace panup {

/// What the rules of a book say of one configuration.
struct Said {
  Verdict verdict;
  std::vector<Finding> findings;

  /// "forbidden: 1.1: it is not for DC 3 kV." of the findings of one rule, one a line; empty where
  /// it says nothing.
  std::string of(const std::string& rule) const;
  /// The first finding of a rule, which must be there.
  const Finding& first(const std::string& rule) const;
};

/// A locomotive is 19 m long and has pantographs at 4.5 and 14.5 m behind its cab 1, unless the
/// test says otherwise: so two of them in a row have pantographs 4.5, 14.5, 23.5 and 33.5 m behind
/// the front. Pantographs: 1950 mm head, two strips of plain carbon, single-arm, AC 15 kV, 70 N,
/// 700 A running, 80 A at a stand, 200 km/h, wire from 4.8 to 6.5 m. The line: 120 km/h, AC 15 kV,
/// wire from 5 to 6 m, design type A, and it permits all of that.
struct SampleCase {
  RuleBook book;
  Train train;
  Section section;
  bool iced = false;
  bool reversed = false;
  std::optional<double> wind_ms;
  std::optional<double> temperature_c;
  ComputedSpeeds* computed_speeds = nullptr;
  std::vector<const SeparationSection*> separations;
  std::vector<const LowPlace*> low_places;
  std::vector<PantographRef> failed;  ///< found defective on the road

  SampleCase();

  /// Types that the test may change before or after vehicles are made of them.
  static std::shared_ptr<PantographType> pantograph();
  static std::shared_ptr<VehicleType> locomotive();
  static std::shared_ptr<VehicleType> locomotive(
      const std::shared_ptr<const PantographType>& first,
      const std::shared_ptr<const PantographType>& second);

  SampleCase& add(const std::shared_ptr<const VehicleType>& type, Cab leading_cab = Cab::cab1);
  SampleCase& load(LoadNature nature, const std::string& name = "petrol");
  Vehicle& vehicle(int number);
  Rule& rule(const std::string& id);
  /// The other rules are taken out of the book.
  SampleCase& only(const std::vector<std::string>& ids);

  Judge judge() const;
  /// Judges "1.1 2.2"; the empty text is nothing up. Holds the verdict that planning would get
  /// against the one with findings.
  Said with(const std::string& raised) const;
};

}  // namespace panup
