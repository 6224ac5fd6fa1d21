#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "figures/envelope.h"
#include "figures/permitted_words.h"

namespace panup {

namespace {

std::string counted(int count, const std::string& what) {
  constexpr std::array words{"one", "two", "three", "four", "five", "six", "seven", "eight"};
  const bool in_words = count >= 1 && count <= static_cast<int>(words.size());
  return fmt::format(
      "{} {}", in_words ? words.at(static_cast<std::size_t>(count - 1)) : std::to_string(count),
      what);
}

void add_scan_notes(std::vector<std::string>& notes, const Envelope& envelope) {
  if (envelope.permitted.empty()) {
    return;
  }
  const PermittedSpeed& first = envelope.permitted.front();
  const PermittedSpeed& widest =
      std::ranges::max(envelope.permitted, {}, &PermittedSpeed::edge_error_kmh);
  notes.push_back(fmt::format(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} to {:g} km/h {}; nothing below {:g} km/h was computed.{}",
      first.looked_from_kmh, first.looked_to_kmh, step_words(first.step_kmh), first.looked_from_kmh,
      edge_words(widest.edge_error_kmh)));
  long cells = 0;
  long coarse = 0;
  for (const std::vector<EnvelopeCell>& of_distance : envelope.cells) {
    cells += static_cast<long>(of_distance.size());
    coarse += std::ranges::count_if(of_distance, &EnvelopeCell::coarse);
  }
  if (coarse > 0) {
    notes.push_back(coarse_note(fmt::format("{} of {} cells", coarse, cells), "this line"));
  }
  if (envelope.count > 1) {
    notes.push_back(only_these_distances_note());
  }
}

}  // namespace

std::string raised_words(const Envelope& envelope) {
  const std::string text = counted(envelope.count, envelope.pantograph_name);
  return envelope.knuckles.empty() ? text : text + ", " + knuckle_words(envelope.knuckles);
}

std::vector<std::string> notes_of(const Envelope& envelope) {
  std::vector<std::string> notes;
  add_scan_notes(notes, envelope);
  notes.push_back(source_note(envelope.line_name, envelope.line_source));
  notes.push_back(source_note(envelope.pantograph_name, envelope.pantograph_source));
  for (const std::string& words : envelope.not_judged) {
    notes.push_back("Not judged: " + words);
  }
  if (!envelope.published.empty()) {
    notes.push_back(fmt::format(
        "The published table is a design basis for two pantographs by design speed; reading it by "
        "running speed{} is derived. It is shown up to {:g} km/h, as far as speeds were asked for. "
        "Source: {}.",
        envelope.count > 2 ? ", and for more than two," : "", envelope.speeds_kmh.back(),
        envelope.published_source));
  }
  if (!envelope.samples.empty()) {
    notes.push_back(fmt::format("Samples: {}, seed {}, drawn evenly within: {}.",
                                envelope.samples.front().permitted_speed_kmh.size(), envelope.seed,
                                fmt::join(envelope.tolerances, "; ")));
  }
  add_closing_notes(notes);
  return notes;
}

}  // namespace panup
