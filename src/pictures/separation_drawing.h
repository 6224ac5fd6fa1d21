#pragma once

#include <string>

#include "drawing/block.h"
#include "drawing/text_style.h"
#include "plan/plan.h"

namespace panup {

/// A separation section with the train in it at the deciding moment, the front at the left: its
/// zones, the contact strips on them, what joins them, and how much further strips could reach.
/// Marks belong to "zone 0", …, "pantograph 1.1", …, "join 0", … or "scale". Type is `type_pt` in
/// size.
Block draw_separation(const TextSetter& setter, const Plan& plan, const SeparationMoment& moment,
                      const Columns& columns, double type_pt = small.size_pt);

/// The same in words: "With the front at km 12.380, 1.1 touches phase R; …".
std::string separation_words(const Plan& plan, const SeparationMoment& moment);

/// What the train does there: "joins phase R with phase S through 1.1", "puts 1.1 on DC 3 kV, which
/// it is not for".
std::string forbidden_words(const SeparationSection& section, const RaisedCollectors& raised,
                            const ForbiddenRange& range, const Words& words);

}  // namespace panup
