#include "files/read_running_data.h"

#include <fmt/format.h>

#include <array>

namespace panup {

RunningData read_running_data(TomlTable& table, double greatest_mass_t) {
  RunningData data;
  data.mass_t = table.number("mass_t", {0.1, greatest_mass_t});
  const auto a = table.number("davis_a_n", {0, 500'000});
  const auto b = table.number("davis_b_n_per_kmh", {0, 100'000});
  const auto c = table.number("davis_c_n_per_kmh2", {0, 1'000});
  if (a && b && c) {
    data.resistance = {.a_n = *a, .b_n_per_kmh = *b, .c_n_per_kmh2 = *c};
  }
  constexpr std::array keys{"davis_a_n", "davis_b_n_per_kmh", "davis_c_n_per_kmh2"};
  const char* stated = nullptr;
  const char* missing = nullptr;
  for (const char* const key : keys) {
    const char*& which = table.has(key) ? stated : missing;
    which = which == nullptr ? key : which;
  }
  if (stated != nullptr && missing != nullptr) {
    table.report_at(stated, fmt::format("key '{}' is missing: running resistance takes all three "
                                        "coefficients; one that is nothing is stated as 0",
                                        missing));
  }
  return data;
}

}  // namespace panup
