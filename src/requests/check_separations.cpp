#include "requests/check_separations.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "judging/facts/passing_distances.h"
#include "judging/facts/separation_length.h"

namespace panup {

namespace {

double extent_m(const PantographType& type, double strips_not_stated_m) {
  const auto& stated_mm = type.strip_length_along_track_mm;
  return stated_mm ? *stated_mm / 1000 : strips_not_stated_m;
}

Collector collector_of(const RoofPantograph& roof, double behind_front_m,
                       double strips_not_stated_m) {
  Collector collector{.ref = {},
                      .behind_front_m = behind_front_m,
                      .strip_extent_m = extent_m(*roof.type, strips_not_stated_m),
                      .fit_for = {}};
  for (const PantographSupply& supply : roof.type->supplies) {
    collector.fit_for.push_back(supply.supply);
  }
  return collector;
}

/// By zones where they are stated, and by what the length means; what is unknown may pass.
bool may_pass(const SeparationSection& section, const RaisedCollectors& raised) {
  return (section.zones.empty() || passes(section.zones, raised, BreakerAt::open)) &&
         judge_by_length(section.length_m, section.length_meaning, raised).answer !=
             LengthAnswer::forbidden;
}

/// Whether some two pantographs, one of each vehicle, may be up together, either cab leading.
bool some_may_pass(const SeparationSection& section, const VehicleType& first,
                   const VehicleType& second, double strips_not_stated_m) {
  for (const RoofPantograph& ahead : first.pantographs) {
    for (const RoofPantograph& behind : second.pantographs) {
      for (const double ahead_m : {ahead.from_cab1_m, first.length_m - ahead.from_cab1_m}) {
        for (const double behind_m : {behind.from_cab1_m, second.length_m - behind.from_cab1_m}) {
          const RaisedCollectors raised{
              .collectors = {collector_of(ahead, ahead_m, strips_not_stated_m),
                             collector_of(behind, first.length_m + behind_m, strips_not_stated_m)},
              .joins = {}};
          if (may_pass(section, raised)) {
            return true;
          }
        }
      }
    }
  }
  return false;
}

/// Whether it passes by itself with one of its pantographs up. Where it does not, what double
/// heading does is not the question.
bool passes_alone(const SeparationSection& section, const VehicleType& type,
                  double strips_not_stated_m) {
  return std::ranges::any_of(type.pantographs, [&](const RoofPantograph& roof) {
    return may_pass(section,
                    {.collectors = {collector_of(roof, 0, strips_not_stated_m)}, .joins = {}});
  });
}

/// "K41 with K41".
std::vector<std::string> pairs_that_cannot_pass(const SeparationSection& section,
                                                const Stock& stock, double strips_not_stated_m) {
  std::vector<const VehicleType*> able;
  for (const auto& type : stock.vehicles) {
    if (passes_alone(section, *type, strips_not_stated_m)) {
      able.push_back(type.get());
    }
  }
  std::vector<std::string> pairs;
  for (std::size_t i = 0; i < able.size(); ++i) {
    for (std::size_t j = i; j < able.size(); ++j) {
      const VehicleType& one = *able[i];
      const VehicleType& other = *able[j];
      if (!some_may_pass(section, one, other, strips_not_stated_m) &&
          !some_may_pass(section, other, one, strips_not_stated_m)) {
        pairs.push_back(fmt::format("{} with {}", one.id, other.id));
      }
    }
  }
  return pairs;
}

/// "less than 116.2 m or more than 126.8 m"; empty where any distance will do.
std::string distance_words(const std::vector<DistanceRange>& ranges) {
  std::string text;
  for (const DistanceRange& range : ranges) {
    const bool from_nothing = range.from_m <= 0;
    if (from_nothing && std::isinf(range.to_m)) {
      return {};
    }
    text += text.empty() ? "" : " or ";
    text += std::isinf(range.to_m) ? fmt::format("more than {:.2f} m", range.from_m)
            : from_nothing         ? fmt::format("less than {:.2f} m", range.to_m)
                           : fmt::format("from {:.2f} to {:.2f} m", range.from_m, range.to_m);
  }
  return text;
}

double longest_extent_m(const Stock& stock, double strips_not_stated_m) {
  double longest = 0;
  for (const auto& type : stock.pantographs) {
    longest = std::max(longest, extent_m(*type, strips_not_stated_m));
  }
  return longest;
}

std::string words_for_distances(const SeparationSection& section, double strips_m) {
  if (!section.zones.empty()) {
    const std::vector<DistanceRange> ranges = passing_distances(section.zones, strips_m);
    const std::string distances = distance_words(ranges);
    return ranges.empty()
               ? fmt::format("no two raised pantographs pass it, with strips over {:g} m", strips_m)
           : distances.empty()
               ? std::string()
               : fmt::format(
                     "two raised pantographs pass it only {} apart, with strips over {:g} m",
                     distances, strips_m);
  }
  switch (section.length_meaning) {
    case LengthMeaning::maximum_between_outer:
      return fmt::format(
          "raised pantographs pass it only less than {:g} m apart between outer "
          "strips",
          section.length_m);
    case LengthMeaning::minimum_between_inner:
      return fmt::format(
          "raised pantographs pass it only more than {:g} m apart between inner "
          "strips",
          section.length_m);
    case LengthMeaning::not_stated:
      return "more than one raised pantograph needs consent, because neither its zones nor the "
             "meaning of its length are stated";
  }
  return {};
}

bool is_passed_lowered(const Route& route, const SeparationSection& section) {
  const SeparationExtent extent = extent_of(section);
  return section.pantograph_lowered ||
         std::ranges::any_of(route.lowered, [&](const LoweredStretch& stretch) {
           return stretch.from_km <= extent.from_km && extent.to_km <= stretch.to_km;
         });
}

}  // namespace

std::string separation_remark(const Route& route, const Stock& stock, double strips_not_stated_m) {
  std::string remark;
  const double strips_m = longest_extent_m(stock, strips_not_stated_m);
  for (const SeparationSection& section : route.separations) {
    if (is_passed_lowered(route, section)) {
      continue;
    }
    std::string text = words_for_distances(section, strips_m);
    const std::vector<std::string> pairs =
        pairs_that_cannot_pass(section, stock, strips_not_stated_m);
    if (!pairs.empty()) {
      text += fmt::format("{}no double heading passes it with both up of {}",
                          text.empty() ? "" : "; ", fmt::join(pairs, ", "));
    }
    if (!text.empty()) {
      remark += fmt::format("{}{} at km {:.3f}, breakers open and nothing joining them: {}",
                            remark.empty() ? "" : ". ", section.name, section.from_km, text);
    }
  }
  return remark;
}

}  // namespace panup
