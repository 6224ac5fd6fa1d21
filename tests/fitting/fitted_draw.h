#pragma once

#include "fitting/fit_record.h"

namespace panup {

/// A record of the line of `fitted_line.h`: the force of the yardstick with noise of 3 N below
/// 20 Hz, each value hanging on the one before, and drop-outs of some ten metres, a tenth in all;
/// one draw of chance a number. The case begins with what the files say.
FitCase fitted_draw(unsigned number, double noise_n = 3);

/// How many of the true values lie within the interval that is stated; -1 where one is not told.
int recovered(const FitOutcome& outcome);

}  // namespace panup
