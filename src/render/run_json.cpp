#include "render/run_json.h"

#include "render/plan_json.h"

namespace panup {

nlohmann::ordered_json run_to_json(const RunPlan& run) {
  nlohmann::ordered_json json;
  json["program_version"] = run.parts.front().program_version;
  json["run"] = nlohmann::ordered_json{{"id", run.id}, {"name", run.name}};
  json["answer"] = name_of(answer_of(run));
  json["running_time_s"] = running_time_s(run);
  nlohmann::ordered_json instructions = nlohmann::ordered_json::array();
  nlohmann::ordered_json parts = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    nlohmann::ordered_json part = plan_to_json(run.parts[i]);
    for (const nlohmann::ordered_json& order : part["instructions"]) {
      nlohmann::ordered_json of_run;
      of_run["part"] = i + 1;
      of_run.update(order);
      instructions.push_back(std::move(of_run));
    }
    parts.push_back(std::move(part));
  }
  json["instructions"] = std::move(instructions);
  json["parts"] = std::move(parts);
  return json;
}

nlohmann::ordered_json train_plan_to_json(const RunPlan& run) {
  return run.parts.size() == 1 ? plan_to_json(run.parts.front()) : run_to_json(run);
}

}  // namespace panup
