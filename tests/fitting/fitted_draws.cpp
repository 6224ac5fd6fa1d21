/// Fits many draws of a record and counts in how many each true value lies within its interval:
/// `fitted_draws FIRST LAST`. Fails where one of them does so in less than nine of ten.

#include <fmt/format.h>

#include <array>
#include <cstdlib>

#include "fitted_draw.h"
#include "fitted_line.h"

int main(int argc, char** argv) {
  using namespace panup;
  if (argc != 3) {
    fmt::print(stderr, "usage: fitted_draws FIRST LAST\n");
    return 2;
  }
  const int first = std::atoi(argv[1]);
  const int last = std::atoi(argv[2]);
  std::array<int, std::size(true_values)> within{};
  for (int number = first; number <= last; ++number) {
    const FitOutcome outcome = fit_record(fitted_draw(static_cast<unsigned>(number)));
    fmt::print("{}:", number);
    for (std::size_t i = 0; i < within.size(); ++i) {
      const FittedValue& value = outcome.values[i];
      const bool inside =
          value.told && value.least <= true_values[i].is && true_values[i].is <= value.greatest;
      within[i] += inside ? 1 : 0;
      fmt::print("  {} {:.5g} ({:.5g} to {:.5g}){}", name_of(value.quantity), value.value,
                 value.least, value.greatest, inside ? "" : " NOT WITHIN");
    }
    fmt::print("  left out {:.2f} → {:.2f} N, {} simulations\n", outcome.left_out.before_n,
               outcome.left_out.after_n, outcome.simulations);
    static_cast<void>(std::fflush(stdout));
  }
  const int draws = last - first + 1;
  bool enough = true;
  for (std::size_t i = 0; i < within.size(); ++i) {
    fmt::print("{}: within its interval in {} of {} draws\n", name_of(true_values[i].quantity),
               within[i], draws);
    enough = enough && 10 * within[i] >= 9 * draws;
  }
  return enough ? 0 : 1;
}
