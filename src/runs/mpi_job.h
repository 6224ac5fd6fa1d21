#pragma once

#include "runs/job.h"

namespace panup {

/// Joins the MPI job of this process; says what is wrong where the program was built without MPI.
JoinedJob join_mpi_job();

}  // namespace panup
