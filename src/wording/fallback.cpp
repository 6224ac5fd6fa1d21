#include "wording/fallback.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "wording/wording.h"

namespace panup {

namespace {

/// The one of a list of stretches in order that holds just beyond `km`; null if none does.
template <typename Stretch>
const Stretch* at(const std::vector<Stretch>& stretches, double km) {
  const auto found = std::ranges::upper_bound(stretches, km, {}, &Stretch::to_km);
  return found == stretches.end() || found->from_km > km ? nullptr : &*found;
}

bool same_outcome(const PlannedSection& section, const RoadFailure& failure, double end_km) {
  if (section.answer == Answer::none && failure.stranded) {
    return true;
  }
  return !failure.stranded && failure.reaches_km >= end_km && failure.answer == section.answer &&
         failure.raised == section.raised && failure.put_dead_in_tow == section.put_dead_in_tow &&
         failure.speed_kmh == section.permitted_speed_kmh;
}

bool same_outcome(const PlannedSection& a, const PlannedSection& b) {
  return a.answer == b.answer && a.raised == b.raised && a.put_dead_in_tow == b.put_dead_in_tow &&
         a.permitted_speed_kmh == b.permitted_speed_kmh;
}

/// Rows that say the same but for where.
bool alike(const FallbackRow& a, const FallbackRow& b) {
  const bool same_speed = a.speed_as_planned == b.speed_as_planned &&
                          (a.speed_as_planned || a.speed_kmh == b.speed_kmh);
  const bool same_reach = a.stranded == b.stranded && a.to_the_end == b.to_the_end &&
                          (a.to_the_end || a.stranded || a.reaches_km == b.reaches_km);
  return a.failing_here == b.failing_here && a.answer == b.answer && a.goes_up == b.goes_up &&
         a.goes_down == b.goes_down && a.put_dead_in_tow == b.put_dead_in_tow &&
         a.without_consent == b.without_consent && a.exposed == b.exposed && same_speed &&
         same_reach;
}

bool same_rows(const std::vector<FallbackRow>& a, const std::vector<FallbackRow>& b) {
  return std::ranges::equal(a, b, [](const FallbackRow& x, const FallbackRow& y) {
    return alike(x, y) && x.where == y.where;
  });
}

/// Gathers rows along the route. What lies between two stretches with pantographs down does not
/// part them.
class RowGatherer {
 public:
  void pass_lowered(KmStretch stretch) { append(lowered_, stretch); }

  void add(FallbackRow row, KmStretch where) {
    auto same =
        std::ranges::find_if(rows_, [&](const FallbackRow& old) { return alike(old, row); });
    if (same == rows_.end()) {
      rows_.push_back(std::move(row));
      same = rows_.end() - 1;
    }
    if (!same->where.empty() && bridged(same->where.back().to_km, where.from_km)) {
      same->where.back().to_km = where.to_km;
    } else {
      same->where.push_back(where);
    }
  }

  std::vector<FallbackRow> take() { return std::move(rows_); }

 private:
  bool bridged(double from_km, double to_km) const {
    return from_km == to_km ||
           std::ranges::find(lowered_, KmStretch{from_km, to_km}) != lowered_.end();
  }

  std::vector<FallbackRow> rows_;
  std::vector<KmStretch> lowered_;
};

/// Those of `some` that are not among `others`.
std::vector<PantographRef> without(const std::vector<PantographRef>& some,
                                   const std::vector<PantographRef>& others) {
  std::vector<PantographRef> left;
  std::ranges::copy_if(some, std::back_inserter(left), [&](PantographRef ref) {
    return std::ranges::find(others, ref) == others.end();
  });
  return left;
}

FallbackRow row_for(const PlannedSection& remains, const PlannedSection& planned) {
  FallbackRow row;
  row.answer = remains.answer;
  if (row.answer != Answer::none) {
    row.goes_up = without(remains.raised, planned.raised);
    row.goes_down = without(planned.raised, remains.raised);
    row.speed_as_planned = remains.permitted_speed_kmh == planned.permitted_speed_kmh;
    row.exposed = remains.exposed;
  }
  row.put_dead_in_tow = remains.put_dead_in_tow;
  row.speed_kmh = remains.permitted_speed_kmh;
  row.without_consent = remains.without_consent;
  return row;
}

FallbackRow row_for(const RoadFailure& failure, const PlannedSection& planned, double end_km) {
  PlannedSection remains;
  remains.answer = failure.answer;
  remains.raised = failure.raised;
  remains.put_dead_in_tow = failure.put_dead_in_tow;
  remains.permitted_speed_kmh = failure.speed_kmh;
  remains.without_consent = failure.without_consent;
  remains.exposed = failure.exposed;
  FallbackRow row = row_for(remains, planned);
  row.failing_here = true;
  row.stranded = failure.stranded;
  row.to_the_end = !failure.stranded && failure.reaches_km >= end_km;
  row.reaches_km = failure.reaches_km;
  return row;
}

std::set<double> borders_of(const Plan& plan, const Contingency& contingency) {
  std::set<double> borders;
  const auto cut = [&borders](const auto& stretches) {
    for (const auto& stretch : stretches) {
      borders.insert(stretch.from_km);
      borders.insert(stretch.to_km);
    }
  };
  cut(plan.sections);
  cut(contingency.sections);
  cut(contingency.on_the_road);
  return borders;
}

double end_of(const Plan& plan) { return plan.sections.empty() ? 0 : plan.sections.back().to_km; }

std::vector<FallbackRow> rows_of(const Plan& plan, const Contingency& contingency) {
  const std::set<double> borders = borders_of(plan, contingency);
  const double end_km = end_of(plan);
  RowGatherer gatherer;
  for (auto border = borders.begin(); border != borders.end() && std::next(border) != borders.end();
       ++border) {
    const KmStretch where{*border, *std::next(border)};
    const PlannedSection* const planned = at(plan.sections, where.from_km);
    const PlannedSection* const remains = at(contingency.sections, where.from_km);
    if (planned == nullptr || remains == nullptr) {
      continue;
    }
    if (!planned->lowered_for.empty()) {
      gatherer.pass_lowered(where);
      continue;
    }
    const RoadFailure* const failure = at(contingency.on_the_road, where.from_km);
    const bool same_here = failure != nullptr && same_outcome(*remains, *failure, end_km);
    if (!same_outcome(*planned, *remains)) {
      FallbackRow row = row_for(*remains, *planned);
      row.stranded = same_here && failure->stranded;
      gatherer.add(std::move(row), where);
    }
    if (failure != nullptr && !same_here) {
      gatherer.add(row_for(*failure, *planned, end_km), where);
    }
  }
  return gatherer.take();
}

/// The row that speaks of a stretch; nothing where none does.
std::optional<std::size_t> row_at(const std::vector<FallbackRow>& rows, bool failing_here,
                                  KmStretch where) {
  const auto row = std::ranges::find_if(rows, [&](const FallbackRow& one) {
    return one.failing_here == failing_here &&
           std::ranges::any_of(one.where, [&](const KmStretch& stretch) {
             return stretch.from_km <= where.from_km && where.to_km <= stretch.to_km;
           });
  });
  return row == rows.end() ? std::nullopt
                           : std::optional(static_cast<std::size_t>(row - rows.begin()));
}

bool same_up(const FallbackUp& a, const FallbackUp& b) {
  return a.row == b.row && a.answer == b.answer && a.raised == b.raised &&
         a.put_dead_in_tow == b.put_dead_in_tow;
}

bool same_place(const FallbackPlace& a, const FallbackPlace& b) {
  return a.lowered_for == b.lowered_for && a.reversed == b.reversed &&
         same_up(a.failed, b.failed) && a.failing.has_value() == b.failing.has_value() &&
         (!a.failing || same_up(*a.failing, *b.failing));
}

}  // namespace

std::vector<Fallback> fallbacks_of(const Plan& plan) {
  std::vector<Fallback> fallbacks;
  for (const Contingency& contingency : plan.contingencies) {
    std::vector<FallbackRow> rows = rows_of(plan, contingency);
    const auto same = std::ranges::find_if(
        fallbacks, [&](const Fallback& other) { return same_rows(other.rows, rows); });
    if (same != fallbacks.end()) {
      same->failed.push_back(contingency.failed);
    } else {
      fallbacks.push_back({{contingency.failed}, std::move(rows)});
    }
  }
  std::ranges::stable_partition(fallbacks,
                                [](const Fallback& fallback) { return !fallback.rows.empty(); });
  return fallbacks;
}

std::vector<FallbackPlace> fallback_places(const Plan& plan, PantographRef failed) {
  std::vector<FallbackPlace> places;
  const auto contingency = std::ranges::find(plan.contingencies, failed, &Contingency::failed);
  if (contingency == plan.contingencies.end()) {
    return places;
  }
  const std::vector<FallbackRow> rows = rows_of(plan, *contingency);
  const std::set<double> borders = borders_of(plan, *contingency);
  for (auto border = borders.begin(); border != borders.end() && std::next(border) != borders.end();
       ++border) {
    const KmStretch where{*border, *std::next(border)};
    const PlannedSection* const planned = at(plan.sections, where.from_km);
    const PlannedSection* const remains = at(contingency->sections, where.from_km);
    if (planned == nullptr || remains == nullptr) {
      continue;
    }
    FallbackPlace place{.from_km = where.from_km,
                        .to_km = where.to_km,
                        .lowered_for = planned->lowered_for,
                        .reversed = planned->reversed,
                        .failed = {.row = {},
                                   .answer = remains->answer,
                                   .raised = remains->raised,
                                   .put_dead_in_tow = remains->put_dead_in_tow},
                        .failing = {}};
    if (planned->lowered_for.empty()) {
      place.failed.row = row_at(rows, false, where);
      const RoadFailure* const failure = at(contingency->on_the_road, where.from_km);
      if (failure != nullptr && !same_outcome(*remains, *failure, end_of(plan))) {
        place.failing = {.row = row_at(rows, true, where),
                         .answer = failure->stranded ? Answer::none : failure->answer,
                         .raised = failure->raised,
                         .put_dead_in_tow = failure->put_dead_in_tow};
      }
    }
    if (!places.empty() && places.back().to_km == place.from_km &&
        same_place(places.back(), place)) {
      places.back().to_km = place.to_km;
    } else {
      places.push_back(std::move(place));
    }
  }
  return places;
}

std::string remedy_words(const FallbackRow& row, const Words& words) {
  if (row.stranded && !row.failing_here) {
    return words.say("no permitted configuration; failing here, the train stands until help comes");
  }
  if (row.stranded) {
    return words.say("the train stands until help comes");
  }
  if (row.answer == Answer::none) {
    return words.say("no permitted configuration");
  }
  std::string text;
  if (!row.goes_up.empty()) {
    text = row.goes_down.empty() ? words.say("raise {}", list_words(row.goes_up, words))
                                 : words.say("raise {} for {}", list_words(row.goes_up, words),
                                             list_words(row.goes_down, words));
  } else if (row.goes_down.size() == 1) {
    text = words.say("nothing in its place");
  } else {
    text = row.goes_down.empty() ? words.say("the same up")
                                 : words.say("lower {}", list_words(row.goes_down, words));
  }
  return row.put_dead_in_tow.empty()
             ? text
             : words.say_of(row.put_dead_in_tow.size(), "{}, vehicle {} dead in tow",
                            "{}, vehicles {} dead in tow", text,
                            list_words(row.put_dead_in_tow, words));
}

std::string limits_words(const FallbackRow& row, const Words& words) {
  std::vector<std::string> limits;
  if (row.answer == Answer::consent_needed) {
    limits.push_back(
        row.without_consent.empty()
            ? words.say("only with consent of the infrastructure manager")
            : words.say("only with consent of the infrastructure manager, without it: {}",
                        row.without_consent));
  }
  if (row.failing_here && !row.stranded && !row.to_the_end) {
    limits.push_back(words.say("as far as km {}, no permitted configuration beyond",
                               km_brief(row.reaches_km, words)));
  }
  for (const ExposedLoad& load : row.exposed) {
    limits.push_back(words.say("the {}", exposure_words(load, words)));
  }
  return fmt::to_string(fmt::join(limits, "; "));
}

std::string where_words(const FallbackRow& row, const Words& words) {
  const std::string where = km_list(row.where, words);
  return row.failing_here ? words.say("failing in {}", where) : where;
}

bool may_run(const FallbackRow& row) { return !row.stranded && row.answer != Answer::none; }

std::string speed_words(const FallbackRow& row, const Words& words) {
  if (!may_run(row)) {
    return "–";
  }
  return row.speed_as_planned ? words.say("as planned") : speed_figure(row.speed_kmh, words);
}

}  // namespace panup
