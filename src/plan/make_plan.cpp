#include "plan/make_plan.h"

#include <algorithm>

#include "base/handed_out.h"
#include "plan/coasting_findings.h"
#include "plan/consent_gain.h"
#include "plan/contingencies.h"
#include "plan/course.h"
#include "plan/exposure.h"
#include "plan/instructions.h"
#include "plan/margins.h"
#include "plan/mechanics_rounds.h"
#include "plan/plan_notes.h"
#include "plan/planned_sections.h"
#include "plan/planning_case.h"
#include "plan/separations_passed.h"
#include "plan/way.h"

namespace panup {

namespace {

void append(std::vector<std::string>& notes, const std::vector<std::string>& more) {
  notes.insert(notes.end(), more.begin(), more.end());
}

Plan plan_once(const PlanRequest& request, MechanicsSpeeds* speeds) {
  Plan plan;
  plan.train = request.train;
  plan.route = request.route;
  plan.conditions = request.conditions;
  plan.rule_books = request.rules.names;
  plan.speed_from = request.speed_from;
  plan.overrides = request.rules.overrides;
  plan.words = request.rules.words;
  plan.cautions = cautions("plan", plan.words);

  // 1. Cut the route into pieces, and judge on each what may be up there.
  const PlanningCase planning = prepare(request);

  // 2. Find the best way through what is permitted: what is up on every piece.
  // 3. Follow the train along it: where it stands, what is ordered where, where it has no power.
  const PantographSet defective = planning.judges[0].train().defective;
  const Course course = find_course(planning, defective);
  const Way& way = course.way;
  plan.running_time_s = static_cast<double>(way.cost[Rung::time]) / 1000;

  // 4. Say of every section what is up, how fast, and why; and what a consent would gain.
  plan.sections = planned_sections(planning, course, defective);
  plan.answer = worst(plan.sections);
  const std::vector<std::string> gains = add_consent_gain(planning, way, defective, plan.sections);

  // 5. Put the orders in words.
  plan.instructions = write_instructions(planning, way, course.orders.all);

  // 6. For each pantograph: what if it fails?
  plan.contingencies = find_contingencies(planning, way, plan.sections, request.jobs);
  add_exposure(planning, plan.contingencies);

  // 7. Add what is drawn and reported beside the plan: how near it comes to limits.
  plan.separation_moments = moments_on(planning, way);
  plan.margins = margins_on(planning, plan.sections, speeds);

  // 8. Say what was not checked, and what else is to be known of the whole.
  plan.notes = planning.notes;
  append(plan.notes, search_notes(planning, way));
  append(plan.notes, gains);
  append(plan.notes, course.currents.notes);
  append(plan.notes, course.orders.notes);
  append(plan.notes, general_notes(request));
  append(plan.notes, coasting_notes(planning, course.powerless));
  if (speeds != nullptr) {
    append(plan.notes, speeds->notes());
  }
  return plan;
}

}  // namespace

std::optional<Plan> make_plan(const PlanRequest& request) {
  return with_mechanics(request, plan_once);
}

}  // namespace panup
