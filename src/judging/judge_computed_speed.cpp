/// What the mechanics of wire and pantograph says of the speed.

#include <string>

#include "judging/judge_parts.h"
#include "judging/prepared_rules.h"

namespace panup {

namespace {

/// "pantograph 2.1, ", or nothing where it is the line that decides.
std::string whose(const JudgedCase& judged, int pantograph) {
  if (pantograph < 1 || pantograph > static_cast<int>(judged.raised_front_first.size())) {
    return {};
  }
  const std::size_t p = judged.raised_front_first[static_cast<std::size_t>(pantograph - 1)];
  return judged.words().say("pantograph {}, ", to_string(judged.train.pantographs[p].ref));
}

std::string distances_of(const JudgedCase& judged) {
  if (judged.raised_front_first.size() < 2) {
    return judged.words().say("one raised");
  }
  std::vector<std::string> distances;
  for (std::size_t i = 1; i < judged.raised_front_first.size(); ++i) {
    const auto& all = judged.train.pantographs;
    distances.push_back(
        judged.words().say("{:.1f}", all[judged.raised_front_first[i]].from_front_m -
                                         all[judged.raised_front_first[i - 1]].from_front_m));
  }
  std::string text;
  for (const std::string& distance : distances) {
    text = text.empty() ? distance : judged.words().say("{} and {}", text, distance);
  }
  return judged.words().say("{} raised, {} m apart", judged.raised_front_first.size(), text);
}

std::string failing_text(const JudgedCase& judged, const ComputedSpeed& speed) {
  return judged.words().say("at {:g} km/h {}{} ({})", *speed.fails_at_kmh,
                            whose(judged, speed.pantograph), speed.text, speed.criterion);
}

void say(const Rule& rule, const JudgedCase& judged, const ComputedSpeed& speed, Opinion& opinion) {
  const double by_tables = opinion.verdict.spacing_speed_kmh;
  const std::string tables =
      opinion.verdict.spacing_rule == nullptr ? std::string() : opinion.verdict.spacing_rule->id;
  if (!speed.fails_at_kmh) {
    opinion.say(rule, Strength::note, [&] {
      std::string text = judged.words().say(
          "By the mechanics, {}: every speed computed up to {:g} km/h passes; the least margin is "
          "{:.0f} % ({}{}).",
          distances_of(judged), speed.looked_to_kmh, 100 * speed.margin,
          whose(judged, speed.pantograph), speed.criterion);
      if (opinion.verdict.consent_needed) {
        text += judged.words().say(
            " That is evidence to put to the infrastructure manager, and no consent.");
      } else if (by_tables < speed.looked_to_kmh) {
        text += judged.words().say(
            " The {:g} km/h of {} are more cautious than these criteria need.", by_tables, tables);
      }
      return text;
    });
    return;
  }
  if (speed.speed_kmh <= 0) {
    opinion.forbid(rule, [&] {
      return judged.words().say("By the mechanics, {}: {}; no speed below it was computed.",
                                distances_of(judged), failing_text(judged, speed));
    });
    return;
  }
  const auto words = [&] {
    LimitWords limit{judged.words().say("By the mechanics, {}: {:g} km/h", distances_of(judged),
                                        speed.speed_kmh),
                     judged.words().say("What decides: {}.", failing_text(judged, speed))};
    if (opinion.verdict.consent_needed) {
      limit.further += judged.words().say(
          " That is evidence to put to the infrastructure manager, and no consent.");
    } else if (by_tables < speed.speed_kmh) {
      limit.further += judged.words().say(
          " The {:g} km/h of {} are more cautious than these criteria need.", by_tables, tables);
    } else if (by_tables > speed.speed_kmh && by_tables <= speed.looked_to_kmh) {
      limit.further += judged.words().say(
          " The {:g} km/h of {}, {:g} km/h more, are not supported by the mechanics.", by_tables,
          tables, by_tables - speed.speed_kmh);
    }
    return limit;
  };
  opinion.limit(rule, speed.speed_kmh, words, true);
}

}  // namespace

void judge_computed_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  ComputedSpeeds* const speeds = judged.prepared.computed_speeds;
  if (speeds == nullptr || opinion.verdict.forbidden || judged.raised.empty() ||
      !judged.section.supply) {
    return;
  }
  if (judged.iced) {
    opinion.say(rule, Strength::note, [&] {
      return judged.words().say(
          "The mechanics was not asked: how much ice the wire carries is not known.");
    });
    return;
  }
  const ComputedSpeed* const speed =
      speeds->speed_of(judged, opinion.verdict.other_speed_kmh, opinion.explains());
  if (speed == nullptr) {
    return;
  }
  if (!speed->known) {
    opinion.say(rule, Strength::note, [&] {
      return judged.words().say("The mechanics has no answer: {}.", speed->unknown);
    });
    return;
  }
  say(rule, judged, *speed, opinion);
}

}  // namespace panup
