#include "line/network_conditions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "base/same_place.h"

namespace panup {

namespace {

constexpr double day_s = 86400;

struct KmFromTo {
  double from_km = 0;
  double to_km = 0;
};

/// Where on the route a condition lies, in order.
std::vector<KmFromTo> places_of(const LocalConditions& local, const Network& network,
                                const Route& route) {
  const auto region = std::ranges::find(network.regions, local.region, &Region::id);
  std::vector<KmFromTo> places;
  for (const Section& section : route.sections) {
    const bool in_region =
        region != network.regions.end() &&
        std::ranges::find(region->sections, section.id) != region->sections.end();
    const bool everywhere = local.line.empty() && local.section.empty() && local.region.empty();
    if (everywhere || (!local.section.empty() && section.id == local.section) ||
        (!local.region.empty() && in_region)) {
      places.push_back({section.from_km, section.to_km});
    } else if (!local.line.empty() && section.line == local.line) {
      const double begins = section.line_from_km.value_or(section.from_km);
      const double ends = section.line_to_km.value_or(section.to_km);
      const double from = std::max(local.from_km.value_or(0), std::min(begins, ends));
      const double to =
          std::min(local.to_km.value_or(std::max(begins, ends)), std::max(begins, ends));
      if (to > from) {
        const bool falling = ends < begins;
        const double near = falling ? begins - to : from - begins;
        places.push_back({section.from_km + near, section.from_km + near + (to - from)});
      }
    }
  }
  return places;
}

/// Cuts the section of a route that holds a chainage in two there.
void cut_at(Route& route, double km) {
  const auto held = std::ranges::find_if(route.sections, [km](const Section& section) {
    return section.from_km < km - same_place_km && km + same_place_km < section.to_km;
  });
  if (held == route.sections.end()) {
    return;
  }
  Section behind = *held;
  behind.from_km = km;
  held->to_km = km;
  if (held->line_from_km && held->line_to_km) {
    const double along = km - held->from_km;
    const double at =
        *held->line_from_km + (*held->line_to_km < *held->line_from_km ? -along : along);
    behind.line_from_km = std::round(at * 1e6) / 1e6;
    held->line_to_km = behind.line_from_km;
  }
  route.sections.insert(std::next(held), std::move(behind));
}

std::string clock_words(int seconds) {
  return fmt::format("{:02}:{:02}", seconds / 3600, seconds / 60 % 60);
}

std::string time_words(const LocalConditions& local, const Words& words) {
  if (local.from_s && local.until_s) {
    return words.say("from {} to {}", clock_words(*local.from_s), clock_words(*local.until_s));
  }
  return local.from_s ? words.say("from {}", clock_words(*local.from_s))
                      : words.say("until {}", clock_words(local.until_s.value_or(0)));
}

std::string what_words(const LocalConditions& local, const Words& language) {
  std::string words = local.ice ? language.say("ice") : "";
  const auto add = [&words](const std::string& text) {
    words += (words.empty() ? "" : ", ") + text;
  };
  if (local.temperature_c) {
    add(language.say("{:g} °C", *local.temperature_c));
  }
  if (local.wind_ms) {
    add(language.say("wind {:g} m/s", *local.wind_ms));
  }
  return words;
}

/// The least time between two chainages, at the fastest that the line permits.
double least_time_s(const Route& route, double from_km, double to_km) {
  double seconds = 0;
  for (const Section& section : route.sections) {
    const double km = std::min(to_km, section.to_km) - std::max(from_km, section.from_km);
    if (km > 0 && section.line_speed_kmh > 0) {
      seconds += 3600 * km / section.line_speed_kmh;
    }
  }
  return seconds;
}

/// The conditions of a day that lie on a route and may hold.
class Day {
 public:
  Day(const NetworkConditions& conditions, const Network& network, const Words& words, Route& route,
      Diagnostics& diagnostics)
      : stated_(conditions),
        network_(network),
        words_(words),
        route_(route),
        diagnostics_(diagnostics) {}

  std::optional<Conditions> on_way(const std::vector<TimeAtKm>& times, double train_length_m) {
    Conditions day{.name = stated_.name,
                   .invented = stated_.invented,
                   .ice = {},
                   .temperature_c = stated_.temperature_c,
                   .wind_ms = stated_.wind_ms,
                   .local = {},
                   .notes = {},
                   .place = stated_.place};
    for (const LocalConditions& local : stated_.local) {
      for (const KmFromTo& where : places_of(local, network_, route_)) {
        const TimesOn on = times_on(route_, times, train_length_m, where.from_km, where.to_km);
        if (!may_hold(local.from_s, local.until_s, on)) {
          day.notes.push_back(words_.say(
              "Left out, for by the timetable the train is not on km {:.3f}–{:.3f} "
              "then: {}, {}. A train that runs at other times needs a plan of its own.",
              where.from_km, where.to_km, what_words(local, words_), time_words(local, words_)));
          continue;
        }
        if (local.ice) {
          day.ice.push_back({where.from_km, where.to_km});
        }
        if (local.temperature_c || local.wind_ms) {
          weather_.push_back({where, &local});
        }
      }
    }
    merge(day.ice);
    return put_weather(day) ? std::optional(std::move(day)) : std::nullopt;
  }

 private:
  struct Placed {
    KmFromTo where;
    const LocalConditions* local = nullptr;
  };

  /// Cuts the sections where the weather changes, and gives each its own.
  bool put_weather(Conditions& day) {
    bool one_temperature = true;
    for (const Placed& placed : weather_) {
      cut_at(route_, placed.where.from_km);
      cut_at(route_, placed.where.to_km);
    }
    for (Section& section : route_.sections) {
      const double middle = (section.from_km + section.to_km) / 2;
      const LocalConditions* by = nullptr;  // that said the temperature
      for (const Placed& placed : weather_) {
        if (middle <= placed.where.from_km || middle >= placed.where.to_km) {
          continue;
        }
        const LocalConditions& local = *placed.local;
        if (local.wind_ms) {
          section.wind_ms = std::max(section.wind_ms.value_or(*local.wind_ms), *local.wind_ms);
        }
        if (local.temperature_c && by != nullptr && *by->temperature_c != *local.temperature_c) {
          diagnostics_.push_back(
              {local.place,
               fmt::format("{:g} °C here, and {:g} °C by line {} of this file, may both hold on "
                           "section '{}' when the train is there: state one of them for it",
                           *local.temperature_c, *by->temperature_c, by->place.line, section.id)});
          one_temperature = false;
        } else if (local.temperature_c) {
          by = &local;
          section.temperature_c = local.temperature_c;
        }
      }
      add_local(section, day);
    }
    return one_temperature;
  }

  static void add_local(const Section& section, Conditions& day) {
    if (!section.temperature_c && !section.wind_ms) {
      return;
    }
    if (!day.local.empty() && day.local.back().to_km >= section.from_km - same_place_km &&
        day.local.back().temperature_c == section.temperature_c &&
        day.local.back().wind_ms == section.wind_ms) {
      day.local.back().to_km = section.to_km;
      return;
    }
    day.local.push_back({.from_km = section.from_km,
                         .to_km = section.to_km,
                         .temperature_c = section.temperature_c,
                         .wind_ms = section.wind_ms});
  }

  const NetworkConditions& stated_;
  const Network& network_;
  const Words& words_;
  Route& route_;
  Diagnostics& diagnostics_;
  std::vector<Placed> weather_;
};

}  // namespace

TimesOn times_on(const Route& route, const std::vector<TimeAtKm>& times, double train_length_m,
                 double from_km, double to_km) {
  TimesOn on;
  for (const TimeAtKm& time : times) {
    if (time.at_km <= from_km + same_place_km) {
      const auto known = time.departure_s ? time.departure_s : time.arrival_s;
      if (known) {
        on.earliest_s = *known + least_time_s(route, time.at_km, from_km);
      }
      // A train that comes to a stand at its beginning is there from its arrival on.
      if (time.at_km >= from_km - same_place_km && time.arrival_s) {
        on.earliest_s = *time.arrival_s;
      }
    }
    const bool whole_train_past = time.at_km >= to_km + train_length_m / 1000 - same_place_km;
    if (whole_train_past && !on.latest_s) {
      const auto known = time.arrival_s ? time.arrival_s : time.departure_s;
      if (known) {
        on.latest_s = *known;
      }
    }
  }
  const double end_km = route.sections.back().to_km;
  if (!on.latest_s && !times.empty() && times.back().at_km >= end_km - same_place_km &&
      to_km + train_length_m / 1000 > end_km && times.back().arrival_s) {
    on.latest_s = *times.back().arrival_s;  // its run ends there
  }
  return on;
}

bool may_hold(std::optional<int> from_s, std::optional<int> until_s, TimesOn times) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  const double earliest = times.earliest_s.value_or(-endless);
  const double latest = times.latest_s.value_or(endless);
  if (!from_s || !until_s) {
    return (!from_s || latest >= *from_s) && (!until_s || earliest <= *until_s);
  }
  const double lasts = *until_s - *from_s + (*until_s <= *from_s ? day_s : 0);
  constexpr int days = 5;
  for (int day = -1; day < days - 1; ++day) {
    const double from = *from_s + day * day_s;
    if (earliest <= from + lasts && latest >= from) {
      return true;
    }
  }
  return false;
}

std::optional<Conditions> conditions_on(const NetworkConditions& conditions, const Network& network,
                                        Route& route, const std::vector<TimeAtKm>& times,
                                        double train_length_m, Diagnostics& diagnostics,
                                        const Words& words) {
  return Day(conditions, network, words, route, diagnostics).on_way(times, train_length_m);
}

}  // namespace panup
