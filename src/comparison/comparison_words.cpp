#include "comparison/comparison_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::vector<std::string> texts_of(const PlanComparison& comparison, bool ends_it) {
  std::vector<std::string> texts;
  for (const PlanChange& change : comparison.changes) {
    if (change.ends_it == ends_it) {
      texts.push_back(change.part == 0 ? change.text
                                       : fmt::format("Part {}: {}", change.part, change.text));
    }
  }
  return texts;
}

}  // namespace

std::string comparison_to_text(const PlanComparison& comparison, const RunPlan& now) {
  const Plan& first = now.parts.front();
  std::string out = std::ranges::any_of(now.parts, invented) ? std::string(invented_mark) + "\n\n"
                                                             : std::string();
  out += hanging("Train    ", plain(with_id(first.train.name, first.train.id)), text_columns);
  out += hanging("Route    ", plain(with_id(now.route_name, first.route.id)), text_columns);
  if (now.parts.size() > 1) {
    out += hanging(
        "Parts    ",
        plain(fmt::format("{}, between which vehicles of the train change", now.parts.size())),
        text_columns);
  }
  out += '\n';
  out += comparison.still_holds()
             ? "STILL HOLDS: what was handed out says what today's plan says.\n"
             : "DOES NOT HOLD ANY LONGER: hand out today's plan, and take the earlier one back.\n";
  return out +
         text_list("WHY", texts_of(comparison, false).empty() && comparison.still_holds()
                              ? std::vector<std::string>{"Nothing has changed."}
                              : texts_of(comparison, true)) +
         text_list("CHANGED SINCE, with no effect on what was handed out",
                   texts_of(comparison, false)) +
         text_list("CAUTIONS", first.cautions);
}

nlohmann::ordered_json comparison_to_json(const PlanComparison& comparison, const RunPlan& now) {
  const Plan& first = now.parts.front();
  nlohmann::ordered_json json;
  json["still_holds"] = comparison.still_holds();
  json["train"] = first.train.id;
  json["route"] = first.route.id;
  json["parts"] = now.parts.size();
  json["changes"] = nlohmann::ordered_json::array();
  for (const PlanChange& change : comparison.changes) {
    json["changes"].push_back({{"what", change.what},
                               {"ends_it", change.ends_it},
                               {"text", change.text},
                               {"part", change.part == 0 ? nlohmann::ordered_json(nullptr)
                                                         : nlohmann::ordered_json(change.part)}});
  }
  json["cautions"] = first.cautions;
  json["program_version"] = first.program_version;
  return json;
}

}  // namespace panup
