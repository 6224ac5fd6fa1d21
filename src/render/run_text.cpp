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
  const Words& words = run.parts.front().words;
  std::string text =
      hanging(fmt::format("{:<7}  ", words.say("RUN")),
              plain(words.say(
                  "{}, in {} parts, between which vehicles of the train change: {}, {} without "
                  "stops",
                  with_id(run.name, run.id), run.parts.size(), words.named(name_of(answer_of(run))),
                  duration_words(running_time_s(run), words))),
              text_columns);
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    const Plan& part = run.parts[i];
    text += fmt::format(
        "\n{0:=<{1}}\n{2}\n{0:=<{1}}\n\n", "", text_columns,
        words.say("PART {} OF {}, km {}", i + 1, run.parts.size(),
                  km_range(departure_km(part.route), part.route.sections.back().to_km, words)));
    text += plan_to_text(part);
  }
  return text;
}

}  // namespace panup
