#include "plan/coasting_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "base/listed.h"
#include "judging/facts/train_collectors.h"
#include "judging/separation_rule.h"

namespace panup {

namespace {

const Section& section_at(const Route& route, double km) {
  const auto found = std::ranges::find_if(
      route.sections, [km](const Section& section) { return km <= section.to_km; });
  return found == route.sections.end() ? route.sections.back() : *found;
}

/// A pantograph that may be raised on the wire before, or behind, what is passed without power,
/// with the places of the front of the train up to which, and from which on, it stands there.
struct LiveCollector {
  std::string name;
  double up_to_km = -std::numeric_limits<double>::infinity();
  double from_km = std::numeric_limits<double>::infinity();
};

std::vector<LiveCollector> live_collectors_of(const CoastingPassage& passage) {
  const Judge& judge = passage.planning.judge(passage.piece);
  const RunningTrain& train = judge.train();
  const Route& route = passage.planning.request->route;
  const PowerlessStretch& stretch = passage.stretch;
  const PantographSet before = judge.usable(section_at(route, stretch.from_km()));
  const PantographSet behind = judge.usable(section_at(route, stretch.to_km() + 1e-6));
  const PantographSet all = (before | behind) - train.defective - passage.defective;
  std::vector<LiveCollector> collectors;
  for (const Collector& collector :
       raised_collectors(train, all, strips_not_stated_m(passage.planning.request->rules))
           .collectors) {
    const std::size_t own = *index_of(train, collector.ref);
    LiveCollector one;
    one.name = to_string(collector.ref);
    if (before.contains(own)) {
      one.up_to_km =
          stretch.from_km() + (collector.behind_front_m - collector.strip_extent_m / 2) / 1000;
    }
    if (behind.contains(own)) {
      one.from_km =
          stretch.to_km() + (collector.behind_front_m + collector.strip_extent_m / 2) / 1000;
    }
    collectors.push_back(std::move(one));
  }
  return collectors;
}

/// What could be raised with the front of the train at `km`.
std::string live_wire_words(const std::vector<LiveCollector>& collectors, double km) {
  std::vector<std::string> before;
  std::vector<std::string> behind;
  for (const LiveCollector& one : collectors) {
    if (km < one.up_to_km) {
      before.push_back(one.name);
    } else if (km > one.from_km) {
      behind.push_back(one.name);
    }
  }
  if (before.empty() && behind.empty()) {
    return "no pantograph that is fit for it stands under live wire";
  }
  const auto side = [](const std::vector<std::string>& names, std::string_view where) {
    return fmt::format("{} {} under the live wire {} it", listed(names),
                       names.size() == 1 ? "stands" : "stand", where);
  };
  return (before.empty() ? "" : side(before, "before")) +
         (before.empty() || behind.empty() ? "" : ", ") +
         (behind.empty() ? "" : side(behind, "behind"));
}

/// The same for wherever else it may stand.
std::string wherever_words(const std::vector<LiveCollector>& collectors) {
  if (collectors.empty()) {
    return {};
  }
  const LiveCollector& last_before = std::ranges::max(collectors, {}, &LiveCollector::up_to_km);
  const LiveCollector& first_behind = std::ranges::min(collectors, {}, &LiveCollector::from_km);
  std::vector<std::string> clauses;
  if (std::isfinite(last_before.up_to_km)) {
    clauses.push_back(
        fmt::format("{} reaches the live wire before it while the front is short of "
                    "km {:.3f}",
                    last_before.name, last_before.up_to_km));
  }
  if (std::isfinite(first_behind.from_km)) {
    clauses.push_back(fmt::format("{} that behind it from km {:.3f} on", first_behind.name,
                                  first_behind.from_km));
  }
  const bool gap = last_before.up_to_km < first_behind.from_km;
  return fmt::format(" Elsewhere {}{}.", fmt::join(clauses, ", "),
                     gap ? "; in between none reaches live wire" : "");
}

std::string way_out_words(const CoastingPassage& passage, double stands_km) {
  const std::vector<LiveCollector> collectors = live_collectors_of(passage);
  return fmt::format(
      "With its front at km {:.3f}, {}.{} Before such a one is raised the breaker is "
      "open and all others are down, and the local rules allow it; else the train "
      "waits for help.",
      stands_km, live_wire_words(collectors, stands_km), wherever_words(collectors));
}

std::string pantograph_words(const CoastingPassage& passage, const CoastingRun& run) {
  std::vector<std::string> clauses;
  for (const Collector& collector : passage.raised.collectors) {
    const double half_m = collector.strip_extent_m / 2;
    const auto enters =
        run.at(passage.stretch.from_km() + (collector.behind_front_m - half_m) / 1000);
    const auto leaves =
        run.at(passage.stretch.to_km() + (collector.behind_front_m + half_m) / 1000);
    if (enters && leaves) {
      const double time_s = leaves->time_s - enters->time_s;
      clauses.push_back(
          fmt::format("{} passes it in {}, entering at {:.0f} km/h and leaving at {:.0f} km/h",
                      to_string(collector.ref),
                      time_s < 1 ? std::string("less than 1 s") : fmt::format("{:.0f} s", time_s),
                      3.6 * enters->speed_ms, 3.6 * leaves->speed_ms));
    }
  }
  return clauses.empty() ? std::string() : fmt::format(" {}.", fmt::join(clauses, "; "));
}

}  // namespace

std::string running_words(const CoastingPassage& passage, const CoastingRun& run,
                          double least_kmh) {
  const CoastingMoment& end = run.moments.back();
  const double in_kmh = passage.stretch.speed_kmh;
  const double out_kmh = 3.6 * end.speed_ms;
  return fmt::format(
      "{}: without power over {:.0f} m and {:.0f} s, from {:.0f} km/h at km {:.2f} to {:.0f} km/h "
      "at "
      "km {:.2f}, {:.0f} km/h {}.{} From {:.0f} km/h at km {:.2f} on it gets through. Wind and "
      "curves are not in it.",
      names_of(passage.stretch), 1000 * (passage.stretch.on_km - passage.stretch.off_km),
      end.time_s, in_kmh, passage.stretch.off_km, out_kmh, passage.stretch.on_km,
      std::abs(in_kmh - out_kmh), out_kmh > in_kmh ? "gained unless it is braked" : "lost",
      pantograph_words(passage, run), least_kmh, passage.stretch.off_km);
}

std::string standing_words(const CoastingPassage& passage, const CoastingRun& run,
                           double least_kmh) {
  const CoastingMoment& slowest =
      *std::ranges::min_element(run.moments, {}, &CoastingMoment::speed_ms);
  const std::string what =
      run.stands
          ? fmt::format("it comes to a stand with its front at km {:.3f}", run.moments.back().at_km)
          : fmt::format("it falls to {:.1f} km/h at km {:.3f}, too little to rely on",
                        3.6 * slowest.speed_ms, slowest.at_km);
  return fmt::format(
      "{}: the train may come to a stand without power. From {:.0f} km/h at km {:.2f}, where the "
      "breaker opens, {}. It needs at least {:.0f} km/h there. {}",
      names_of(passage.stretch), std::floor(passage.stretch.speed_kmh), passage.stretch.off_km,
      what, least_kmh, way_out_words(passage, slowest.at_km));
}

std::string not_known_words(const CoastingPassage& passage, std::string_view why) {
  return fmt::format(
      "{}: whether the train may come to a stand without power, from km {:.3f}, where the breaker "
      "opens, to km {:.3f}, is not known: {}.",
      names_of(passage.stretch), passage.stretch.off_km, passage.stretch.on_km, why);
}

std::string stop_within_words(const CoastingPassage& passage, const Stop& stop) {
  return fmt::format(
      "{}: the train stops at {}, between breaker off and breaker on, and has no "
      "power to start. {}",
      names_of(passage.stretch), stop.name, way_out_words(passage, stop.at_km));
}

}  // namespace panup
