#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "figures/envelope.h"
#include "figures/permitted_words.h"

namespace panup {

namespace {

std::string counted(int count, const std::string& what, const Words& words) {
  constexpr std::array numbers{"one", "two", "three", "four", "five", "six", "seven", "eight"};
  const bool in_words = count >= 1 && count <= static_cast<int>(numbers.size());
  return words.say("{} {}",
                   in_words ? words.named(numbers.at(static_cast<std::size_t>(count - 1)))
                            : std::to_string(count),
                   what);
}

void add_scan_notes(std::vector<std::string>& notes, const Envelope& envelope, const Words& words) {
  if (envelope.permitted.empty()) {
    return;
  }
  const PermittedSpeed& first = envelope.permitted.front();
  const PermittedSpeed& widest =
      std::ranges::max(envelope.permitted, {}, &PermittedSpeed::edge_error_kmh);
  notes.push_back(words.say(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} to {:g} km/h {}; nothing below {:g} km/h was computed.{}",
      first.looked_from_kmh, first.looked_to_kmh, step_words(first.step_kmh, words),
      first.looked_from_kmh, edge_words(widest.edge_error_kmh, words)));
  long cells = 0;
  long coarse = 0;
  for (const std::vector<EnvelopeCell>& of_distance : envelope.cells) {
    cells += static_cast<long>(of_distance.size());
    coarse += std::ranges::count_if(of_distance, &EnvelopeCell::coarse);
  }
  if (coarse > 0) {
    notes.push_back(coarse_note(
        words.say("{} of {} cells were decided by a run in a longer step: what they leave to every "
                  "limit, or lack of one, is more than such a run is off on this line",
                  coarse, cells),
        words));
  }
  if (envelope.count > 1) {
    notes.push_back(only_these_distances_note(words));
  }
}

}  // namespace

std::string raised_words(const Envelope& envelope, const Words& words) {
  const std::string text = counted(envelope.count, envelope.pantograph_name, words);
  return envelope.knuckles.empty() ? text : text + ", " + knuckle_words(envelope.knuckles, words);
}

std::vector<std::string> notes_of(const Envelope& envelope, const Words& words) {
  std::vector<std::string> notes;
  add_scan_notes(notes, envelope, words);
  notes.push_back(source_note(envelope.line_name, envelope.line_source, words));
  notes.push_back(source_note(envelope.pantograph_name, envelope.pantograph_source, words));
  for (const std::string& what : envelope.not_judged) {
    notes.push_back(words.say("Not judged: {}", what));
  }
  if (!envelope.published.empty()) {
    notes.push_back(
        envelope.count > 2
            ? words.say("The published table is a design basis for two pantographs by design "
                        "speed; reading it by running speed, and for more than two, is derived. It "
                        "is shown up to {:g} km/h, as far as speeds were asked for. Source: {}.",
                        envelope.speeds_kmh.back(), envelope.published_source)
            : words.say("The published table is a design basis for two pantographs by design "
                        "speed; reading it by running speed is derived. It is shown up to {:g} "
                        "km/h, as far as speeds were asked for. Source: {}.",
                        envelope.speeds_kmh.back(), envelope.published_source));
  }
  if (!envelope.samples.empty()) {
    notes.push_back(words.say("Samples: {}, seed {}, drawn evenly within: {}.",
                              envelope.samples.front().permitted_speed_kmh.size(), envelope.seed,
                              fmt::format("{}", fmt::join(envelope.tolerances, "; "))));
  }
  add_closing_notes(notes, words);
  return notes;
}

}  // namespace panup
