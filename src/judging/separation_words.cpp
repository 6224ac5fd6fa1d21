#include "judging/separation_words.h"

#include <algorithm>

#include "judging/facts/remedies.h"

namespace panup {

namespace {

const Words& words_of(const SeparationPassage& passage) { return passage.judged.words(); }

std::string place_of(const SeparationPassage& passage) {
  return words_of(passage).say("{} at km {:.9g}", passage.section.name, passage.section.from_km);
}

std::string km_of(const SeparationPassage& passage, double front_m) {
  return words_of(passage).say("{:.3f}", passage.section.from_km + front_m / 1000);
}

std::string name_of(const SeparationPassage& passage, const ChainLink& link) {
  switch (link.what) {
    case ChainLink::What::zone:
      return panup::name_of(passage.section.zones[link.index], words_of(passage));
    case ChainLink::What::collector:
      return to_string(passage.raised.collectors[link.index].ref);
    case ChainLink::What::join:
      return passage.raised.joins[link.index].name;
  }
  return {};
}

/// "2.1, the roof line of unit 1 and 1.1": what is between the two zones.
std::string chain_words(const SeparationPassage& passage, const ForbiddenRange& range) {
  std::vector<std::string> names;
  for (std::size_t i = 1; i + 1 < range.chain.size(); ++i) {
    names.push_back(name_of(passage, range.chain[i]));
  }
  return words_of(passage).listed(names);
}

/// "joins phase R with phase S through 1.1", "puts 1.1 on DC 3 kV, which it is not for".
std::string what_happens(const SeparationPassage& passage, const ForbiddenRange& range) {
  const auto& zones = passage.section.zones;
  if (range.why == Conflict::wrong_system) {
    return words_of(passage).say("puts {} on {}, which it is not for",
                                 name_of(passage, range.chain.front()),
                                 panup::name_of(zones[range.first_zone], words_of(passage)));
  }
  return words_of(passage).say(
      "joins {} with {} through {}", panup::name_of(zones[range.first_zone], words_of(passage)),
      panup::name_of(zones[range.second_zone], words_of(passage)), chain_words(passage, range));
}

/// The lines that may be there, and how to say whether they are.
std::string possible_lines(const RaisedCollectors& raised) {
  std::string names;
  for (const HighVoltageJoin& join : raised.joins) {
    if (join.only_possible) {
      names += (names.empty() ? "" : ", ") + join.name;
    }
  }
  return names;
}

std::string how_to_state(const SeparationPassage& passage) {
  return words_of(passage).say(
      "State it in the train file, or that the vehicle types have no high-voltage coupler");
}

/// What had to be taken for granted.
std::string assumptions(const SeparationPassage& passage) {
  std::string text;
  std::string unstated;
  double extent_m = 0;
  for (const std::size_t p : passage.judged.raised_front_first) {
    const PlacedPantograph& placed = passage.judged.train.pantographs[p];
    if (!placed.type->strip_length_along_track_mm) {
      unstated += (unstated.empty() ? "" : ", ") + to_string(placed.ref);
      for (const Collector& collector : passage.raised.collectors) {
        extent_m = collector.ref == placed.ref ? collector.strip_extent_m : extent_m;
      }
    }
  }
  if (!unstated.empty()) {
    text += words_of(passage).say(
        " Not stated: how far contact strips reach along the track ({}); {:g} m is "
        "assumed.",
        unstated, extent_m);
  }
  return text;
}

std::string breaker_words(const SeparationPassage& passage) {
  return passage.section.breaker_off ? words_of(passage).say(
                                           " The main circuit breaker has to be open from before "
                                           "the section until the last "
                                           "one is through.")
                                     : std::string();
}

}  // namespace

std::string unknown_join_words(const SeparationPassage& passage, const Sweep& swept) {
  return words_of(passage).say(
      "{}: whether {} may be up together is not known. Whether there is {} is not stated; with it "
      "the train {}. {}.{}",
      place_of(passage), list_of(passage.judged.train, passage.judged.raised),
      possible_lines(passage.raised), what_happens(passage, swept.forbidden.front()),
      how_to_state(passage), assumptions(passage));
}

std::string forbidden_words(const SeparationPassage& passage, const Sweep& swept) {
  const ForbiddenRange& range = swept.forbidden.front();
  const std::string from = km_of(passage, range.from_m);
  const std::string to = km_of(passage, range.to_m);
  const std::size_t more = swept.forbidden.size() - 1;
  return words_of(passage).say(
      "{}: with {} up the train {}, while its front is {}{}. {}{}", place_of(passage),
      list_of(passage.judged.train, passage.judged.raised), what_happens(passage, range),
      from == to ? words_of(passage).say("at km {}", from)
                 : words_of(passage).say("from km {} to {}", from, to),
      more == 0 ? std::string()
                : words_of(passage).say_of(more, "; and once more like it",
                                           "; and {} times more like it", more),
      words_for(remedies(passage.section.zones, passage.raised), passage.raised, words_of(passage)),
      assumptions(passage));
}

std::string passing_words(const SeparationPassage& passage) {
  std::string text = words_of(passage).say(
      "{}: {} may stay up; the train joins no live zone with another or with earth.",
      place_of(passage), list_of(passage.judged.train, passage.judged.raised));
  if (const auto moment = deciding_moment(passage.section.zones, passage.raised)) {
    text += words_of(passage).say(
        " It comes nearest to it with its front at km {}: contact strips that "
        "reached {:.2f} m further, ahead and behind, would mean that it {}.",
        km_of(passage, moment->front_m), moment->reserve_m, what_happens(passage, moment->what));
  }
  if (const std::string lines = possible_lines(passage.raised); !lines.empty()) {
    text += words_of(passage).say(" The same holds with {}; whether there is one is not stated.",
                                  lines);
  }
  return text + breaker_words(passage) + assumptions(passage);
}

std::string length_words(const SeparationPassage& passage, const LengthJudgement& judgement) {
  const SeparationSection& section = passage.section;
  const std::string up = list_of(passage.judged.train, passage.judged.raised);
  const auto remedy = [&] {
    return words_for(
        remedies(passage.raised,
                 [&section](const RaisedCollectors& left) {
                   return judge_by_length(section.length_m, section.length_meaning, left).answer ==
                          LengthAnswer::passes;
                 }),
        passage.raised, words_of(passage));
  };
  const bool passes = judgement.answer == LengthAnswer::passes;
  const auto tail = [&] {
    return passes ? breaker_words(passage) + assumptions(passage)
                  : " " + remedy() + assumptions(passage);
  };
  switch (section.length_meaning) {
    case LengthMeaning::maximum_between_outer:
      return passes
                 ? words_of(passage).say(
                       "{}: {} up, {:.2f} m between outer strips; permitted: less than {:g} m.{}",
                       place_of(passage), up, judgement.outer_m, section.length_m, tail())
                 : words_of(passage).say(
                       "{}: {} up, {:.2f} m between outer strips; it has to be less than {:g} m.{}",
                       place_of(passage), up, judgement.outer_m, section.length_m, tail());
    case LengthMeaning::minimum_between_inner:
      if (judgement.answer == LengthAnswer::unknown) {
        return words_of(passage).say(
            "{}: whether {} may be up together is not known. Whether there is {} is not stated; "
            "with it one is on the wire before the section while the other is on that behind it. "
            "{}.{}",
            place_of(passage), up, possible_lines(passage.raised), how_to_state(passage),
            assumptions(passage));
      }
      if (judgement.join) {
        return words_of(passage).say(
            "{}: {} up are joined by {}; in a section with a minimum between inner strips, {:g} m, "
            "one is on the wire before it while the other is on that behind it.{}",
            place_of(passage), up, passage.raised.joins[*judgement.join].name, section.length_m,
            tail());
      }
      if (!judgement.inner_m) {
        return passes ? words_of(passage).say(
                            "{}: {} alone is up; that the section lets a single one pass is taken "
                            "for granted, for its zones are not stated.{}",
                            place_of(passage), up, tail())
                      : words_of(passage).say(
                            "{}: {} alone is up; its strips reach over the section's {:g} m.{}",
                            place_of(passage), up, section.length_m, tail());
      }
      return passes
                 ? words_of(passage).say(
                       "{}: {} up, {:.2f} m between inner strips; permitted: more than {:g} m.{}",
                       place_of(passage), up, *judgement.inner_m, section.length_m, tail())
                 : words_of(passage).say(
                       "{}: {} up, {:.2f} m between inner strips; it has to be more than {:g} m.{}",
                       place_of(passage), up, *judgement.inner_m, section.length_m, tail());
    case LengthMeaning::not_stated:
      break;
  }
  if (passes) {
    return words_of(passage).say(
        "{}: {} alone is up; that the section lets a single one pass is taken for "
        "granted, because its zones are not stated.{}",
        place_of(passage), up, tail());
  }
  if (judgement.answer == LengthAnswer::forbidden) {
    return words_of(passage).say("{}: strips of {} reach over the section's {:g} m.{}",
                                 place_of(passage), up, section.length_m, tail());
  }
  return words_of(passage).say(
      "{}: whether {} may be up together is not known. The section's {:g} m are stated neither as "
      "a "
      "maximum between outer strips nor as a minimum between inner ones, and its zones are not "
      "stated: ask the infrastructure manager for them.{}",
      place_of(passage), up, section.length_m, assumptions(passage));
}

}  // namespace panup
