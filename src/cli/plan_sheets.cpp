#include "cli/plan_sheets.h"

#include <fmt/format.h>

#include "card/card.h"
#include "card/report.h"
#include "drawing/json_text.h"
#include "render/plan_json.h"
#include "render/plan_tables.h"
#include "render/plan_text.h"
#include "render/run_json.h"
#include "render/run_text.h"

namespace panup {

std::vector<OutputFile> plan_sheets(const Plan& plan) {
  std::vector<OutputFile> files;
  files.push_back({"plan.txt", plan_to_text(plan)});
  files.push_back({"plan.json", json_text(plan_to_json(plan))});
  add_rendered(csv_files(plan_tables({&plan, 1}), remarks_on({&plan, 1})), files);
  add_rendered(render_card(plan), files);
  add_rendered(render_report(plan), files);
  return files;
}

std::vector<OutputFile> run_sheets(const RunPlan& run) {
  std::vector<OutputFile> files;
  files.push_back({"run.txt", run_to_text(run)});
  files.push_back({"run.json", json_text(run_to_json(run))});
  add_rendered(csv_files(plan_tables(run.parts), remarks_on(run.parts)), files);
  CardBook cards(run.name);
  for (const Plan& part : run.parts) {
    cards.add(part);
  }
  files.push_back({"card.pdf", cards.finish()});
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    for (RenderedFile& rendered : render_report(run.parts[i])) {
      files.push_back({fmt::format("part-{}-{}", i + 1, rendered.name), std::move(rendered.bytes)});
    }
  }
  return files;
}

std::vector<OutputFile> train_sheets(const RunPlan& run) {
  return run.parts.size() == 1 ? plan_sheets(run.parts.front()) : run_sheets(run);
}

}  // namespace panup
