#include <iostream>

#include "render/plan_json.h"
#include "render/why_not.h"
#include "sample_envelope.h"
#include "sample_plan.h"

/// Prints the sample plans, envelopes and the sample answer to "why not" as one JSON object, for
/// the test of the schemas.
int main() {
  nlohmann::ordered_json all;
  for (const auto& [name, plan] : panup::all_sample_plans()) {
    all["plans"][name] = panup::plan_to_json(plan);
  }
  all["envelopes"] = {panup::envelope_to_json(panup::sample_envelope(20, 11)),
                      panup::envelope_to_json(panup::varied_envelope()),
                      panup::envelope_to_json(panup::sample_envelope_of_one())};
  all["why_not"] = panup::why_not_to_json(panup::sample_plan(), panup::sample_why_not());
  std::cout << all.dump() << '\n';
}
