#include "plan/coasting_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

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
std::string live_wire_words(const std::vector<LiveCollector>& collectors, double km,
                            const Words& words) {
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
    return words.say("no pantograph that is fit for it stands under live wire");
  }
  const std::string stand_before =
      words.say_of(before.size(), "{} stands under the live wire before it",
                   "{} stand under the live wire before it", words.listed(before));
  const std::string stand_behind =
      words.say_of(behind.size(), "{} stands under the live wire behind it",
                   "{} stand under the live wire behind it", words.listed(behind));
  return behind.empty()   ? stand_before
         : before.empty() ? stand_behind
                          : stand_before + ", " + stand_behind;
}

/// The same for wherever else it may stand.
std::string wherever_words(const std::vector<LiveCollector>& collectors, const Words& words) {
  if (collectors.empty()) {
    return {};
  }
  const LiveCollector& last_before = std::ranges::max(collectors, {}, &LiveCollector::up_to_km);
  const LiveCollector& first_behind = std::ranges::min(collectors, {}, &LiveCollector::from_km);
  std::vector<std::string> clauses;
  if (std::isfinite(last_before.up_to_km)) {
    clauses.push_back(
        words.say("{} reaches the live wire before it while the front is short of "
                  "km {:.3f}",
                  last_before.name, last_before.up_to_km));
  }
  if (std::isfinite(first_behind.from_km)) {
    clauses.push_back(
        words.say("{} that behind it from km {:.3f} on", first_behind.name, first_behind.from_km));
  }
  const std::string all = fmt::to_string(fmt::join(clauses, ", "));
  const bool gap = last_before.up_to_km < first_behind.from_km;
  return gap ? words.say(" Elsewhere {}; in between none reaches live wire.", all)
             : words.say(" Elsewhere {}.", all);
}

std::string way_out_words(const CoastingPassage& passage, double stands_km) {
  const Words& words = passage.planning.words();
  const std::vector<LiveCollector> collectors = live_collectors_of(passage);
  return words.say(
      "With its front at km {:.3f}, {}.{} Before such a one is raised the breaker is "
      "open and all others are down, and the local rules allow it; else the train "
      "waits for help.",
      stands_km, live_wire_words(collectors, stands_km, words), wherever_words(collectors, words));
}

std::string pantograph_words(const CoastingPassage& passage, const CoastingRun& run) {
  const Words& words = passage.planning.words();
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
          words.say("{} passes it in {}, entering at {:.0f} km/h and leaving at {:.0f} km/h",
                    to_string(collector.ref),
                    time_s < 1 ? words.say("less than 1 s") : words.say("{:.0f} s", time_s),
                    3.6 * enters->speed_ms, 3.6 * leaves->speed_ms));
    }
  }
  return clauses.empty() ? std::string() : " " + fmt::to_string(fmt::join(clauses, "; ")) + ".";
}

}  // namespace

std::string running_words(const CoastingPassage& passage, const CoastingRun& run,
                          double least_kmh) {
  const Words& words = passage.planning.words();
  const CoastingMoment& end = run.moments.back();
  const double in_kmh = passage.stretch.speed_kmh;
  const double out_kmh = 3.6 * end.speed_ms;
  const std::string change =
      out_kmh > in_kmh ? words.say("{:.0f} km/h gained unless it is braked", out_kmh - in_kmh)
                       : words.say("{:.0f} km/h lost", in_kmh - out_kmh);
  return words.say(
      "{}: without power over {:.0f} m and {:.0f} s, from {:.0f} km/h at km {:.2f} to {:.0f} km/h "
      "at km {:.2f}, {}.{} From {:.0f} km/h at km {:.2f} on it gets through. Wind and curves are "
      "not in it.",
      names_of(passage.stretch, words), 1000 * (passage.stretch.on_km - passage.stretch.off_km),
      end.time_s, in_kmh, passage.stretch.off_km, out_kmh, passage.stretch.on_km, change,
      pantograph_words(passage, run), least_kmh, passage.stretch.off_km);
}

std::string standing_words(const CoastingPassage& passage, const CoastingRun& run,
                           double least_kmh) {
  const Words& words = passage.planning.words();
  const CoastingMoment& slowest =
      *std::ranges::min_element(run.moments, {}, &CoastingMoment::speed_ms);
  const std::string what =
      run.stands
          ? words.say("it comes to a stand with its front at km {:.3f}", run.moments.back().at_km)
          : words.say("it falls to {:.1f} km/h at km {:.3f}, too little to rely on",
                      3.6 * slowest.speed_ms, slowest.at_km);
  return words.say(
      "{}: the train may come to a stand without power. From {:.0f} km/h at km {:.2f}, where the "
      "breaker opens, {}. It needs at least {:.0f} km/h there. {}",
      names_of(passage.stretch, words), std::floor(passage.stretch.speed_kmh),
      passage.stretch.off_km, what, least_kmh, way_out_words(passage, slowest.at_km));
}

std::string not_known_words(const CoastingPassage& passage, std::string_view why) {
  const Words& words = passage.planning.words();
  return words.say(
      "{}: whether the train may come to a stand without power, from km {:.3f}, where the breaker "
      "opens, to km {:.3f}, is not known: {}.",
      names_of(passage.stretch, words), passage.stretch.off_km, passage.stretch.on_km, why);
}

std::string stop_within_words(const CoastingPassage& passage, const Stop& stop) {
  const Words& words = passage.planning.words();
  return words.say(
      "{}: the train stops at {}, between breaker off and breaker on, and has no "
      "power to start. {}",
      names_of(passage.stretch, words), stop.name, way_out_words(passage, stop.at_km));
}

}  // namespace panup
