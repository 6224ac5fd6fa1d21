#include "judging/separation_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "judging/facts/remedies.h"

namespace panup {

namespace {

std::string place_of(const SeparationSection& section) {
  return fmt::format("{} at km {:.9g}", section.name, section.from_km);
}

std::string km_of(const SeparationSection& section, double front_m) {
  return fmt::format("{:.3f}", section.from_km + front_m / 1000);
}

std::string name_of(const SeparationPassage& passage, const ChainLink& link) {
  switch (link.what) {
    case ChainLink::What::zone:
      return panup::name_of(passage.section.zones[link.index]);
    case ChainLink::What::collector:
      return to_string(passage.raised.collectors[link.index].ref);
    case ChainLink::What::join:
      return passage.raised.joins[link.index].name;
  }
  return {};
}

/// "2.1, the roof line of unit 1 and 1.1": what is between the two zones.
std::string chain_words(const SeparationPassage& passage, const ForbiddenRange& range) {
  std::string text;
  for (std::size_t i = 1; i + 1 < range.chain.size(); ++i) {
    text += i == 1 ? "" : i + 2 == range.chain.size() ? " and " : ", ";
    text += name_of(passage, range.chain[i]);
  }
  return text;
}

/// "joins phase R with phase S through 1.1", "puts 1.1 on DC 3 kV, which it is not for".
std::string what_happens(const SeparationPassage& passage, const ForbiddenRange& range) {
  const auto& zones = passage.section.zones;
  if (range.why == Conflict::wrong_system) {
    return fmt::format("puts {} on {}, which it is not for", name_of(passage, range.chain.front()),
                       panup::name_of(zones[range.first_zone]));
  }
  return fmt::format("joins {} with {} through {}", panup::name_of(zones[range.first_zone]),
                     panup::name_of(zones[range.second_zone]), chain_words(passage, range));
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

constexpr std::string_view how_to_state =
    "State it in the train file, or that the vehicle types have no high-voltage coupler";

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
    text += fmt::format(
        " Not stated: how far contact strips reach along the track ({}); {:g} m is "
        "assumed.",
        unstated, extent_m);
  }
  return text;
}

std::string breaker_words(const SeparationSection& section) {
  return section.breaker_off ? " The main circuit breaker has to be open from before the section "
                               "until the last one is through."
                             : "";
}

}  // namespace

std::string unknown_join_words(const SeparationPassage& passage, const Sweep& swept) {
  return fmt::format(
      "{}: whether {} may be up together is not known. Whether there is {} is not stated; with it "
      "the train {}. {}.{}",
      place_of(passage.section), list_of(passage.judged.train, passage.judged.raised),
      possible_lines(passage.raised), what_happens(passage, swept.forbidden.front()), how_to_state,
      assumptions(passage));
}

std::string forbidden_words(const SeparationPassage& passage, const Sweep& swept) {
  const ForbiddenRange& range = swept.forbidden.front();
  const std::string from = km_of(passage.section, range.from_m);
  const std::string to = km_of(passage.section, range.to_m);
  const std::size_t more = swept.forbidden.size() - 1;
  return fmt::format(
      "{}: with {} up the train {}, while its front is {}{}. {}{}", place_of(passage.section),
      list_of(passage.judged.train, passage.judged.raised), what_happens(passage, range),
      from == to ? "at km " + from : fmt::format("from km {} to {}", from, to),
      more == 0   ? ""
      : more == 1 ? "; and once more like it"
                  : fmt::format("; and {} times more like it", more),
      words_for(remedies(passage.section.zones, passage.raised), passage.raised),
      assumptions(passage));
}

std::string passing_words(const SeparationPassage& passage) {
  std::string text =
      fmt::format("{}: {} may stay up; the train joins no live zone with another or with earth.",
                  place_of(passage.section), list_of(passage.judged.train, passage.judged.raised));
  if (const auto moment = deciding_moment(passage.section.zones, passage.raised)) {
    text += fmt::format(
        " It comes nearest to it with its front at km {}: contact strips that "
        "reached {:.2f} m further, ahead and behind, would mean that it {}.",
        km_of(passage.section, moment->front_m), moment->reserve_m,
        what_happens(passage, moment->what));
  }
  if (const std::string lines = possible_lines(passage.raised); !lines.empty()) {
    text += fmt::format(" The same holds with {}; whether there is one is not stated.", lines);
  }
  return text + breaker_words(passage.section) + assumptions(passage);
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
        passage.raised);
  };
  const bool passes = judgement.answer == LengthAnswer::passes;
  const auto tail = [&] {
    return passes ? breaker_words(section) + assumptions(passage)
                  : " " + remedy() + assumptions(passage);
  };
  switch (section.length_meaning) {
    case LengthMeaning::maximum_between_outer:
      return fmt::format("{}: {} up, {:.2f} m between outer strips; {} {:g} m.{}",
                         place_of(section), up, judgement.outer_m,
                         passes ? "permitted: less than" : "it has to be less than",
                         section.length_m, tail());
    case LengthMeaning::minimum_between_inner:
      if (judgement.answer == LengthAnswer::unknown) {
        return fmt::format(
            "{}: whether {} may be up together is not known. Whether there is {} is not stated; "
            "with it one is on the wire before the section while the other is on that behind it. "
            "{}.{}",
            place_of(section), up, possible_lines(passage.raised), how_to_state,
            assumptions(passage));
      }
      if (judgement.join) {
        return fmt::format(
            "{}: {} up are joined by {}; in a section with a minimum between inner strips, {:g} m, "
            "one is on the wire before it while the other is on that behind it.{}",
            place_of(section), up, passage.raised.joins[*judgement.join].name, section.length_m,
            tail());
      }
      if (!judgement.inner_m) {
        return fmt::format(
            "{}: {} alone is up; {}.{}", place_of(section), up,
            passes ? "that the section lets a single one pass is taken for granted, "
                     "for its zones are not stated"
                   : fmt::format("its strips reach over the section's {:g} m", section.length_m),
            tail());
      }
      return fmt::format("{}: {} up, {:.2f} m between inner strips; {} {:g} m.{}",
                         place_of(section), up, *judgement.inner_m,
                         passes ? "permitted: more than" : "it has to be more than",
                         section.length_m, tail());
    case LengthMeaning::not_stated:
      break;
  }
  if (passes) {
    return fmt::format(
        "{}: {} alone is up; that the section lets a single one pass is taken for "
        "granted, because its zones are not stated.{}",
        place_of(section), up, tail());
  }
  if (judgement.answer == LengthAnswer::forbidden) {
    return fmt::format("{}: strips of {} reach over the section's {:g} m.{}", place_of(section), up,
                       section.length_m, tail());
  }
  return fmt::format(
      "{}: whether {} may be up together is not known. The section's {:g} m are stated neither as "
      "a "
      "maximum between outer strips nor as a minimum between inner ones, and its zones are not "
      "stated: ask the infrastructure manager for them.{}",
      place_of(section), up, section.length_m, assumptions(passage));
}

}  // namespace panup
