#include "cli/plan_sheets.h"

#include "card/card.h"
#include "card/report.h"
#include "drawing/json_text.h"
#include "render/plan_json.h"
#include "render/plan_text.h"

namespace panup {

std::vector<OutputFile> plan_sheets(const Plan& plan) {
  std::vector<OutputFile> files;
  files.push_back({"plan.txt", plan_to_text(plan)});
  files.push_back({"plan.json", json_text(plan_to_json(plan))});
  for (RenderedFile& rendered : render_card(plan)) {
    files.push_back({std::move(rendered.name), std::move(rendered.bytes)});
  }
  for (RenderedFile& rendered : render_report(plan)) {
    files.push_back({std::move(rendered.name), std::move(rendered.bytes)});
  }
  return files;
}

}  // namespace panup
