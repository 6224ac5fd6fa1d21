#include "day/plan_parts.h"

#include <algorithm>

#include "day/parts_under_way.h"
#include "driving/drive.h"

namespace panup {

std::optional<RunPlan> plan_parts(RunInput input, std::string_view program_version) {
  RunPlan run{.id = std::move(input.id),
              .name = std::move(input.name),
              .route_name = std::move(input.route_name),
              .parts = {}};
  for (PlanInput& part : input.parts) {
    auto plan = make_driven_part(part.request, part.changes);
    if (!plan) {
      return std::nullopt;
    }
    plan->inputs = std::move(part.files);
    plan->program_version = program_version;
    run.parts.push_back(std::move(*plan));
  }
  if (!run_on_where_some_leave(input, run)) {
    return std::nullopt;
  }
  return run;
}

std::vector<std::string> not_there(const RunInput& input) {
  std::vector<std::string> paths;
  for (const PlanInput& part : input.parts) {
    for (const std::string& path : part.not_there) {
      if (std::ranges::find(paths, path) == paths.end()) {
        paths.push_back(path);
      }
    }
  }
  return paths;
}

}  // namespace panup
