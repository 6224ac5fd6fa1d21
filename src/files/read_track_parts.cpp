#include "files/read_track_parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/same_place.h"
#include "files/document.h"

namespace panup {

std::vector<Gradient> read_gradients(std::vector<TomlTable> entries) {
  std::vector<Gradient> gradients;
  for (TomlTable& entry : entries) {
    const auto from = entry.number("from_km", any_chainage_km, Need::required);
    const auto to = entry.number("to_km", any_chainage_km, Need::required);
    const auto permille = entry.number("permille", {-120, 120}, Need::required);
    const bool is_stretch = from && to && *to > *from;
    if (from && to && !is_stretch) {
      entry.report_at("to_km", no_stretch_text("the gradient", *from, *to));
    }
    entry.finish();
    if (is_stretch && permille) {
      gradients.push_back(
          {.from_km = *from, .to_km = *to, .permille = *permille, .place = entry.place()});
    }
  }
  std::ranges::stable_sort(gradients, {}, &Gradient::from_km);
  for (std::size_t i = 1; i < gradients.size(); ++i) {
    if (gradients[i].from_km < gradients[i - 1].to_km - same_place_km) {
      entries.front().report(
          gradients[i].place,
          fmt::format("the gradient from km {:.9g} begins within the one before, which "
                      "ends at km {:.9g}",
                      gradients[i].from_km, gradients[i - 1].to_km));
    }
  }
  return gradients;
}

std::vector<SectionInsulator> read_section_insulators(std::vector<TomlTable> entries) {
  std::vector<SectionInsulator> insulators;
  for (TomlTable& entry : entries) {
    SectionInsulator insulator;
    insulator.name = entry.text("name", Need::required).value_or("");
    const auto at = entry.number("at_km", any_chainage_km, Need::required);
    const auto length = entry.number("length_m", {0, 500, true}, Need::required);
    insulator.place = entry.place();
    entry.finish();
    if (at && length) {
      insulator.at_km = *at;
      insulator.length_m = *length;
      insulators.push_back(std::move(insulator));
    }
  }
  std::ranges::stable_sort(insulators, {}, &SectionInsulator::at_km);
  return insulators;
}

}  // namespace panup
