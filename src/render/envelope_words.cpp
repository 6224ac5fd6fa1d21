#include <fmt/format.h>

#include <array>

#include "render/envelope.h"

namespace panup {

namespace {

std::string counted(int count, const std::string& what) {
  constexpr std::array words{"one", "two", "three", "four", "five", "six", "seven", "eight"};
  const bool in_words = count >= 1 && count <= static_cast<int>(words.size());
  return fmt::format(
      "{} {}", in_words ? words.at(static_cast<std::size_t>(count - 1)) : std::to_string(count),
      what);
}

}  // namespace

std::vector<FailingBand> failing_bands(const Envelope& envelope) {
  std::vector<FailingBand> bands;
  for (std::size_t d = 0; d < envelope.cells.size(); ++d) {
    const std::vector<EnvelopeCell>& cells = envelope.cells[d];
    std::size_t v = 0;
    while (v < cells.size()) {
      if (cells[v].passes) {
        ++v;
        continue;
      }
      const std::size_t from = v;
      while (v < cells.size() && !cells[v].passes) {
        ++v;
      }
      if (v < cells.size()) {
        bands.push_back({envelope.spacings_m[d], envelope.speeds_kmh[from],
                         envelope.speeds_kmh[v - 1], cells[from].criterion});
      }
    }
  }
  return bands;
}

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
  if (!envelope.permitted.empty()) {
    const PermittedSpeed& first = envelope.permitted.front();
    notes.push_back(fmt::format(
        "The permitted speed is the greatest below which every computed speed passes. Speeds were "
        "computed from {:g} to {:g} km/h in steps of {:g} km/h, closer where margins are small; "
        "nothing below {:g} km/h was computed. The speed that fails first is found to within the "
        "edge given.",
        first.looked_from_kmh, first.looked_to_kmh, first.step_kmh, first.looked_from_kmh));
  }
  for (const std::string& words : envelope.not_judged) {
    notes.push_back("Not judged: " + words);
  }
  if (!envelope.published.empty()) {
    notes.push_back(fmt::format(
        "The published table is a design basis for two pantographs by design speed; reading it by "
        "running speed{} is derived. Source: {}.",
        envelope.count > 2 ? ", and for more than two," : "", envelope.published_source));
  }
  if (!envelope.tolerances.empty()) {
    std::string varied;
    for (const std::string& one : envelope.tolerances) {
      varied += (varied.empty() ? "" : "; ") + one;
    }
    notes.push_back(
        fmt::format("Samples, seed {}, drawn evenly within: {}.", envelope.seed, varied));
  }
  notes.emplace_back(
      "A computed result is no permission: what the infrastructure manager's records say goes "
      "before it, and where they say nothing it is evidence for a consent, and no consent.");
  notes.emplace_back(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not "
      "in it. Computed contact loss is not the arcing NQ that is measured.");
  return notes;
}

}  // namespace panup
