#include "render/why_not.h"

#include <fmt/format.h>

#include <cmath>

#include "base/handed_out.h"
#include "drawing/json_text.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/json_parts.h"
#include "wording/finding_text.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string extra_time_words(double seconds) {
  if (std::abs(seconds) < 0.5) {
    return "the same running time";
  }
  return fmt::format("{} {} over the whole route", duration_words(std::abs(seconds)),
                     seconds > 0 ? "more" : "less");
}

}  // namespace

std::string why_not_to_text(const Plan& plan, const WhyNot& why) {
  std::string out;
  const auto fact = [&out](std::string_view name, const std::string& text) {
    out += hanging(fmt::format("{:<8} ", name), plain(text), text_columns);
  };
  if (invented(plan)) {
    out += std::string(invented_mark) + "\n\n";
  }
  fact("Asked", fmt::format("{} at km {} ({}, {})", with_up(why.asked, {}), km_brief(why.at_km),
                            plan.train.name, plan.route.name));
  fact("Planned", why.is_planned ? "the same" : with_up(why.planned, {}));
  fact("Answer", capitalised(name_of(why.answer)) + ". " + why.summary);
  if (why.answer != Answer::none) {
    std::string speed = speed_figure(why.speed_kmh) + " km/h";
    if (why.extra_time_s && !why.is_planned) {
      speed += ", " + extra_time_words(*why.extra_time_s);
    }
    fact("Speed", speed);
  }
  out += findings_to_text("\nWhat the rules say of it, the strongest first\n",
                          group_findings(why.findings));
  if (!plan.cautions.empty()) {
    out += "\nCautions\n";
    for (const std::string& caution : plan.cautions) {
      out += hanging("  - ", plain(caution), text_columns);
    }
  }
  return out;
}

nlohmann::ordered_json why_not_to_json(const WhyNot& why) {
  nlohmann::ordered_json json;
  json["at_km"] = why.at_km;
  json["asked"] = refs_to_json(why.asked);
  json["planned"] = refs_to_json(why.planned);
  json["is_planned"] = why.is_planned;
  json["answer"] = name_of(why.answer);
  json["summary"] = why.summary;
  json["speed_kmh"] = why.speed_kmh;
  json["extra_time_s"] = optional_to_json(why.extra_time_s);
  json["findings"] = findings_to_json(why.findings);
  json["cautions"] = cautions();
  return json;
}

}  // namespace panup
