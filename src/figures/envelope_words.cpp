#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "figures/envelope.h"

namespace panup {

namespace {

std::string counted(int count, const std::string& what) {
  constexpr std::array words{"one", "two", "three", "four", "five", "six", "seven", "eight"};
  const bool in_words = count >= 1 && count <= static_cast<int>(words.size());
  return fmt::format(
      "{} {}", in_words ? words.at(static_cast<std::size_t>(count - 1)) : std::to_string(count),
      what);
}

/// As figures are read: no more than two decimals.
double rounded(double value) { return std::round(100 * value) / 100; }

void add_scan_notes(std::vector<std::string>& notes, const Envelope& envelope) {
  if (envelope.permitted.empty()) {
    return;
  }
  const PermittedSpeed& first = envelope.permitted.front();
  std::string scan = fmt::format(
      "The permitted speed is the greatest below which every computed speed passes. Speeds were "
      "computed from {:g} to {:g} km/h in steps of {:g} km/h, closer where margins are small; "
      "nothing below {:g} km/h was computed.",
      first.looked_from_kmh, first.looked_to_kmh, rounded(first.step_kmh), first.looked_from_kmh);
  const PermittedSpeed& widest =
      std::ranges::max(envelope.permitted, {}, &PermittedSpeed::edge_error_kmh);
  if (widest.edge_error_kmh > 0) {
    scan += fmt::format(" The edge between it and the first speed that fails is at most {:g} km/h.",
                        rounded(widest.edge_error_kmh));
  }
  notes.push_back(std::move(scan));
  long cells = 0;
  long coarse = 0;
  for (const std::vector<EnvelopeCell>& of_distance : envelope.cells) {
    cells += static_cast<long>(of_distance.size());
    coarse += std::ranges::count_if(of_distance, &EnvelopeCell::coarse);
  }
  if (coarse > 0) {
    notes.push_back(fmt::format(
        "{} of {} cells were decided by a run in a longer step: what they leave to every limit, or "
        "lack of one, is more than such a run is off on this line, as pairs of runs have shown. "
        "Every permitted speed, and the first that fails above it, was run in the step of the rule "
        "book.",
        coarse, cells));
  }
  if (envelope.count > 1) {
    notes.emplace_back(
        "Only the distances given were computed: between two of them a distance may permit less "
        "than both.");
  }
}

void add_source(std::vector<std::string>& notes, const std::string& name,
                const std::string& source) {
  notes.push_back(
      source.empty() ? fmt::format("The file of {} does not say where its figures come from.", name)
                     : fmt::format("The figures of {}: {}.", name, source));
}

}  // namespace

std::string raised_words(const Envelope& envelope) {
  std::string text = counted(envelope.count, envelope.pantograph_name);
  if (envelope.knuckles.size() > 1) {
    text += ", knuckle leading or trailing, whichever is worse";
  } else if (!envelope.knuckles.empty()) {
    text +=
        envelope.knuckles.front() == Knuckle::leading ? ", knuckle leading" : ", knuckle trailing";
  }
  return text;
}

std::vector<std::string> notes_of(const Envelope& envelope) {
  std::vector<std::string> notes;
  add_scan_notes(notes, envelope);
  add_source(notes, envelope.line_name, envelope.line_source);
  add_source(notes, envelope.pantograph_name, envelope.pantograph_source);
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
  notes.emplace_back(
      "A computed result is no permission: what the infrastructure manager's records say goes "
      "before it, and where they say nothing it is evidence for a consent, and no consent.");
  notes.emplace_back(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not in it. Computed contact loss is not the arcing NQ that is measured.");
  return notes;
}

}  // namespace panup
