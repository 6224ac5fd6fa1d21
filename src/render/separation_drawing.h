#pragma once

#include <string>

#include "plan/plan.h"
#include "render/block.h"

namespace panup {

/// A separation section with the train in it at the deciding moment, the front at the left: its
/// zones, the contact strips on them, what joins them, and how much further strips could reach.
Block draw_separation(const TextSetter& setter, const Plan& plan, const SeparationMoment& moment,
                      const Columns& columns);

/// The same in words: "With the front at km 12.380, 1.1 touches phase R; …".
std::string separation_words(const Plan& plan, const SeparationMoment& moment);

}  // namespace panup
