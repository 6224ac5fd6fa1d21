#include "render/run_text.h"

#include <fmt/format.h>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/plan_text.h"
#include "wording/wording.h"

namespace panup {

std::string run_to_text(const RunPlan& run) {
  if (run.parts.size() == 1) {
    return plan_to_text(run.parts.front());
  }
  std::string text = hanging(
      "RUN      ",
      plain(fmt::format("{}, in {} parts, between which vehicles of the train change: {}, {} "
                        "without stops",
                        with_id(run.name, run.id), run.parts.size(), name_of(answer_of(run)),
                        duration_words(running_time_s(run)))),
      text_columns);
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    const Plan& part = run.parts[i];
    text += fmt::format("\n{0:=<{3}}\nPART {1} OF {2}, km {4}\n{0:=<{3}}\n\n", "", i + 1,
                        run.parts.size(), text_columns,
                        km_range(departure_km(part.route), part.route.sections.back().to_km));
    text += plan_to_text(part);
  }
  return text;
}

}  // namespace panup
