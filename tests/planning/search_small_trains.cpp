/// Searches small random trains as if they were long, from one seed to another, and says where the
/// best of all ways was missed, or a bound does not hold.
///
///     search_small_trains 1 3000

#include <fmt/format.h>

#include <cstdlib>
#include <span>

#include "searched_trains.h"

namespace {

using namespace panup;

bool is_told(unsigned seed, const scenario::Found& found) {
  if (!found.found || *found.found < found.best || found.best < found.least) {
    fmt::print("seed {}: {}\n", seed,
               !found.found               ? "no way at all"
               : found.best < found.least ? "a way below the bound"
                                          : "better than the best");
    return true;
  }
  if (found.found->rungs != found.best.rungs) {
    const Rung rung = where_they_part(*found.found, found.best);
    fmt::print("seed {}: missed by {}, {} for {}\n", seed, words_for(rung), (*found.found)[rung],
               found.best[rung]);
    return true;
  }
  return false;
}

}  // namespace

int main(int argc, char** argv) {
  const std::span<char*> arguments(argv, static_cast<std::size_t>(argc));
  if (arguments.size() != 3) {
    fmt::print(stderr, "search_small_trains FIRST LAST\n");
    return 2;
  }
  const auto number = [&](std::size_t i) {
    return static_cast<unsigned>(std::strtoul(arguments[i], nullptr, 10));
  };
  int told = 0;
  for (unsigned seed = number(1); seed <= number(2); ++seed) {
    told += is_told(seed, scenario::search_case(seed)) ? 1 : 0;
  }
  fmt::print("{} of {} not as they should be\n", told, number(2) - number(1) + 1);
  return told > 0 ? 1 : 0;
}
