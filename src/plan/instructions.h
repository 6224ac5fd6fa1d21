#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/stand_current.h"
#include "plan/way.h"

namespace panup {

/// The driver's actions along a way, by rising chainage of the front of the train, correct for the
/// pantographs behind it.
///
/// Lowering is ordered no later than the zone's start plus the offset of the first raised
/// pantograph less speed × (reaction + lowering time); the breaker opens before that by its own
/// time. Raising is ordered when the rearmost pantograph to be raised has passed the zone's end;
/// the breaker closes after it is up. Points are rounded to 10 m towards the safe side, and tied to
/// a landmark that lies on the safe side within the rule book's distance. A higher speed is ordered
/// when the whole train has left the slower stretch. `notes` receives what could not be ordered as
/// it should.
std::vector<Instruction> write_instructions(const PlanningCase& planning, const Way& way,
                                            const std::vector<StandHelp>& stands,
                                            std::vector<std::string>& notes);

}  // namespace panup
