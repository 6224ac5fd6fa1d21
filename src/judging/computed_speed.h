#pragma once

#include <optional>
#include <string>

namespace panup {

struct JudgedCase;

/// What the mechanics of wire and pantograph says of one configuration on one section.
struct ComputedSpeed {
  bool known = false;    ///< else `unknown` says why not
  std::string unknown;   ///< one clause
  double speed_kmh = 0;  ///< every speed up to it passes; 0: the lowest one looked at fails
  std::optional<double> fails_at_kmh;  ///< nothing where all up to `looked_to_kmh` pass
  double looked_to_kmh = 0;
  double margin = 0;      ///< the least seen, as a share, of the criterion that decides
  std::string criterion;  ///< id of its rule
  int pantograph = 0;     ///< that decides, counted from the front from 1; 0: the line
  std::string text;       ///< what decides, in one clause with figures
};

/// Where judging has its computed speeds from. Safe from any thread.
class ComputedSpeeds {
 public:
  ComputedSpeeds() = default;
  ComputedSpeeds(const ComputedSpeeds&) = delete;
  ComputedSpeeds& operator=(const ComputedSpeeds&) = delete;
  virtual ~ComputedSpeeds() = default;

  /// For the configuration up to `to_kmh`, on a section that states its system; null where it is
  /// not known. `wanted`: it is for a finding, so that it is worth finding out.
  virtual const ComputedSpeed* speed_of(const JudgedCase& judged, double to_kmh, bool wanted) = 0;
  /// Whether it gives the speed in place of what records and design type say.
  virtual bool stands_in_for_spacing(const JudgedCase& judged) const = 0;
};

}  // namespace panup
