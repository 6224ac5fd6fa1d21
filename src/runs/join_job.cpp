#include <algorithm>
#include <array>
#include <charconv>
#include <cstdlib>
#include <string_view>

#include "runs/job.h"
#include "runs/mpi_job.h"

namespace panup {

namespace {

/// How many processes the launcher says there are: Open MPI, MPICH and its kin, PMIx servers as
/// Slurm's.
int processes_started() {
  constexpr std::array names{"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "SLURM_STEP_NUM_TASKS"};
  int most = 1;
  for (const char* const name : names) {
    if (const char* const text = std::getenv(name)) {
      const std::string_view digits(text);
      int count = 1;
      std::from_chars(digits.data(), digits.data() + digits.size(), count);
      most = std::max(most, count);
    }
  }
  return most;
}

}  // namespace

JoinedJob join_job() {
  if (processes_started() < 2) {
    return {};
  }
  return join_mpi_job();
}

}  // namespace panup
