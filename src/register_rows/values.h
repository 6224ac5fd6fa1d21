#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/route.h"

namespace panup {

/// To the millimetre, so that sums do not end in noise.
double rounded_km(double km);

/// "true" and "1", "false" and "0"; nothing else.
std::optional<bool> flag_in_cell(std::string_view text);

/// A point of a gradient profile: from here on.
struct GradientPoint {
  double at_km = 0;
  double permille = 0;
  friend bool operator==(const GradientPoint&, const GradientPoint&) = default;
};

/// A gradient profile, "±NN.N(NNNN.NNN)" one after the other (parameter 1.1.1.1.3.6), the
/// kilometres rising. Nothing where it is not that.
std::optional<std::vector<GradientPoint>> gradient_profile(std::string_view text);

/// A record of raised pantographs in its old form, "NUMBER DISTANCE SPEED" or "[NUMBER] [DISTANCE]
/// [SPEED]". Nothing where it is not three whole numbers.
std::optional<RaisedRecord> old_record(std::string_view text);

struct PermittedForce {
  std::optional<double> static_n;
  ContactForceLimit greatest;
  friend bool operator==(const PermittedForce&, const PermittedForce&) = default;
};

/// "Static and maximum force in newtons, or a formula of the speed" (parameter 1.1.1.2.5.2): two
/// numbers, the first no more than the second; or A v² + B, also as "Fm = A·v^2 + B N". Nothing of
/// one number, of which nobody can say which it is.
std::optional<PermittedForce> permitted_force(std::string_view text);

/// What both permit, and no more: each pair of records becomes the one that holds where both do.
std::vector<RaisedRecord> permitted_by_both(const std::vector<RaisedRecord>& some,
                                            const std::vector<RaisedRecord>& others);

}  // namespace panup
