#include "render/why_not.h"

#include <fmt/format.h>

#include <cmath>

#include "base/capitals.h"
#include "base/handed_out.h"
#include "base/same_place.h"
#include "drawing/json_text.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/json_parts.h"
#include "wording/finding_text.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string extra_time_words(double seconds, const Words& words) {
  if (std::abs(seconds) < 0.5) {
    return words.say("the same running time");
  }
  const std::string time = duration_words(std::abs(seconds), words);
  return seconds > 0 ? words.say("{} more over the whole route", time)
                     : words.say("{} less over the whole route", time);
}

/// "km 20.0", with what the post beside the track reads where the route does not go by it.
std::string place_words(const Plan& plan, double at_km) {
  const auto post = place_on_line(plan.route, at_km);
  const std::string place = plan.words.say("km {}", km_brief(at_km, plan.words));
  return post ? place + ", " + plan.words.say("line {} km {:.3f}", post->line, post->at_km) : place;
}

/// "2 of 3, km 14.0–62.0": at the very place where it begins, also which train was asked about.
std::string part_words(const Plan& plan, const WhyNot& why, AskedPart part) {
  const double from_km = departure_km(plan.route);
  const bool begins_here = part.number > 1 && std::abs(why.at_km - from_km) <= same_place_km;
  const std::string words =
      plan.words.say("{} of {}, km {}", part.number, part.count,
                     km_range(from_km, plan.route.sections.back().to_km, plan.words));
  return begins_here
             ? words +
                   plan.words.say(
                       ". The vehicles of the train change at this place: the answer is for the "
                       "train as it leaves. For the train as it comes, ask a little before")
             : words;
}

}  // namespace

std::string why_not_to_text(const Plan& plan, const WhyNot& why, AskedPart part) {
  const Words& words = plan.words;
  std::string out;
  const auto fact = [&out](std::string_view name, const std::string& text) {
    out += fact_line(name, plain(text));
  };
  if (invented(plan)) {
    out += invented_words(words) + "\n\n";
  }
  fact(words.say("Asked"),
       words.say("{} at {} ({}, {})", with_up(why.asked, {}, words), place_words(plan, why.at_km),
                 plan.train.name, plan.route.name));
  if (part.count > 1) {
    fact(words.say("Part"), part_words(plan, why, part));
  }
  fact(words.say("Planned"),
       why.is_planned ? words.say("the same") : with_up(why.planned, {}, words));
  fact(words.say("Answer"), capitalised(words.named(name_of(why.answer))) + ". " + why.summary);
  if (why.answer != Answer::none) {
    std::string speed = words.say("{} km/h", speed_figure(why.speed_kmh, words));
    if (why.extra_time_s && !why.is_planned) {
      speed += ", " + extra_time_words(*why.extra_time_s, words);
    }
    fact(words.say("Speed"), speed);
  }
  out += findings_to_text("\n" + words.say("What the rules say of it, the strongest first") + "\n",
                          group_findings(why.findings), words);
  if (!plan.cautions.empty()) {
    out += "\n" + words.say("Cautions") + "\n";
    for (const std::string& caution : plan.cautions) {
      out += hanging("  - ", plain(caution), text_columns);
    }
  }
  return out;
}

nlohmann::ordered_json why_not_to_json(const Plan& plan, const WhyNot& why, AskedPart part) {
  const auto post = place_on_line(plan.route, why.at_km);
  nlohmann::ordered_json json;
  json["at_km"] = why.at_km;
  json["line"] = post ? nlohmann::ordered_json(post->line) : nullptr;
  json["line_km"] = post ? nlohmann::ordered_json(post->at_km) : nullptr;
  json["part"] = part.count > 1 ? nlohmann::ordered_json(part.number) : nullptr;
  json["asked"] = refs_to_json(why.asked);
  json["planned"] = refs_to_json(why.planned);
  json["is_planned"] = why.is_planned;
  json["answer"] = name_of(why.answer);
  json["summary"] = why.summary;
  json["speed_kmh"] = why.speed_kmh;
  json["extra_time_s"] = optional_to_json(why.extra_time_s);
  json["findings"] = findings_to_json(why.findings);
  json["cautions"] = cautions("plan", plan.words);
  return json;
}

}  // namespace panup
