#pragma once

#include "base/toml_table.h"
#include "stock/running_resistance.h"

namespace panup {

/// The keys `mass_t`, up to `greatest_mass_t`, and `davis_a_n`, `davis_b_n_per_kmh` and
/// `davis_c_n_per_kmh2`, of which all three are stated or none.
RunningData read_running_data(TomlTable& table, double greatest_mass_t);

}  // namespace panup
