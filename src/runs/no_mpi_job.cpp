#include "runs/mpi_job.h"

namespace panup {

JoinedJob join_mpi_job() {
  return {
      nullptr,
      "it was started as one of several processes of an MPI job, but built without MPI; build it "
      "where MPI is installed, or start it alone"};
}

}  // namespace panup
