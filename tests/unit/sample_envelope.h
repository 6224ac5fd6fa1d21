#pragma once

#include "figures/envelope.h"

namespace panup {

/// An invented envelope of so many distances and speeds, with a failing band below a faster good
/// one, samples, and the published table beside it.
EnvelopeReport sample_envelope(std::size_t spacings, std::size_t speeds);

/// One raised pantograph: a single column and nothing published.
EnvelopeReport sample_envelope_of_one();

/// Everything at once: distances without any permitted speed, a failing speed between two that
/// pass, every criterion, many samples, a table that begins below the speeds asked for.
EnvelopeReport varied_envelope();

/// Names as long as a file may have, of which nothing may run off the sheet.
EnvelopeReport rough_envelope();

}  // namespace panup
