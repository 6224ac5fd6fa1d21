#include "render/fallback.h"

#include <algorithm>
#include <set>

#include "render/wording.h"

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
         failure.speed_kmh == section.speed_kmh;
}

bool same_outcome(const PlannedSection& a, const PlannedSection& b) {
  return a.answer == b.answer && a.raised == b.raised && a.put_dead_in_tow == b.put_dead_in_tow &&
         a.speed_kmh == b.speed_kmh;
}

/// Rows that say the same but for where.
bool continues(const FallbackRow& a, const FallbackRow& b) {
  return a.when == b.when && a.answer == b.answer && a.raised == b.raised &&
         a.put_dead_in_tow == b.put_dead_in_tow && a.speed_as_planned == b.speed_as_planned &&
         (a.speed_as_planned || a.speed_kmh == b.speed_kmh) && a.stranded == b.stranded &&
         a.to_the_end == b.to_the_end &&
         (a.to_the_end || a.reaches_km == b.reaches_km || a.stranded);
}

bool same_rows(const std::vector<FallbackRow>& a, const std::vector<FallbackRow>& b) {
  return std::ranges::equal(a, b, [](const FallbackRow& x, const FallbackRow& y) {
    return continues(x, y) && x.from_km == y.from_km && x.to_km == y.to_km;
  });
}

/// Gathers rows along the route; what lies between two of them with pantographs down does not part
/// them.
class RowGatherer {
 public:
  void add(FallbackRow row) {
    FallbackRow* const before = last_of(row.when);
    if (before != nullptr && continues(*before, row) && reaches(*before, row.from_km)) {
      before->to_km = row.to_km;
      return;
    }
    rows_.push_back(std::move(row));
  }

  void pass_lowered(KmStretch stretch) { append(passed_, stretch); }

  std::vector<FallbackRow> take() { return std::move(rows_); }

 private:
  FallbackRow* last_of(FailsWhen when) {
    const auto found = std::ranges::find(rows_.rbegin(), rows_.rend(), when, &FallbackRow::when);
    return found == rows_.rend() ? nullptr : &*found;
  }
  bool reaches(const FallbackRow& before, double km) const {
    return before.to_km == km || std::ranges::any_of(passed_, [&](const KmStretch& lowered) {
             return lowered.from_km == before.to_km && lowered.to_km == km;
           });
  }

  std::vector<FallbackRow> rows_;
  std::vector<KmStretch> passed_;
};

FallbackRow row_for(const PlannedSection& without, const PlannedSection& planned, KmStretch where) {
  return {
      .from_km = where.from_km,
      .to_km = where.to_km,
      .when = FailsWhen::before_departure,
      .answer = without.answer,
      .raised = without.raised,
      .put_dead_in_tow = without.put_dead_in_tow,
      .speed_as_planned = without.answer != Answer::none && without.speed_kmh == planned.speed_kmh,
      .speed_kmh = without.speed_kmh,
      .stranded = false,
      .to_the_end = true,
      .reaches_km = 0};
}

FallbackRow row_for(const RoadFailure& failure, const PlannedSection& planned, KmStretch where,
                    double end_km) {
  return {.from_km = where.from_km,
          .to_km = where.to_km,
          .when = FailsWhen::here,
          .answer = failure.answer,
          .raised = failure.raised,
          .put_dead_in_tow = failure.put_dead_in_tow,
          .speed_as_planned = !failure.stranded && failure.speed_kmh == planned.speed_kmh,
          .speed_kmh = failure.speed_kmh,
          .stranded = failure.stranded,
          .to_the_end = !failure.stranded && failure.reaches_km >= end_km,
          .reaches_km = failure.reaches_km};
}

std::vector<FallbackRow> rows_of(const Plan& plan, const Contingency& contingency) {
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
  const double end_km = plan.sections.empty() ? 0 : plan.sections.back().to_km;
  RowGatherer gatherer;
  for (auto border = borders.begin(); border != borders.end() && std::next(border) != borders.end();
       ++border) {
    const KmStretch where{*border, *std::next(border)};
    const PlannedSection* const planned = at(plan.sections, where.from_km);
    const PlannedSection* const without = at(contingency.sections, where.from_km);
    if (planned == nullptr || without == nullptr) {
      continue;
    }
    if (!planned->lowered_for.empty()) {
      gatherer.pass_lowered(where);
      continue;
    }
    const RoadFailure* const failure = at(contingency.on_the_road, where.from_km);
    const bool alike = failure != nullptr && same_outcome(*without, *failure, end_km);
    if (!same_outcome(*planned, *without)) {
      FallbackRow row = row_for(*without, *planned, where);
      row.when = alike ? FailsWhen::either : FailsWhen::before_departure;
      row.stranded = alike && failure->stranded;
      gatherer.add(std::move(row));
    }
    if (failure != nullptr && !alike) {
      gatherer.add(row_for(*failure, *planned, where, end_km));
    }
  }
  return gatherer.take();
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

std::string remedy_words(const FallbackRow& row) {
  if (row.stranded && row.when == FailsWhen::either) {
    return "no permitted configuration; if it fails here, the train stands until help comes";
  }
  if (row.stranded) {
    return "the train stands until help comes";
  }
  if (row.answer == Answer::none) {
    return "no permitted configuration";
  }
  return with_up(row.raised, row.put_dead_in_tow);
}

std::string limits_words(const FallbackRow& row) {
  std::string words;
  if (row.answer == Answer::consent_needed) {
    words = "only with consent of the infrastructure manager";
  }
  if (row.when == FailsWhen::here && !row.stranded && !row.to_the_end) {
    words += words.empty() ? "" : "; ";
    words += "as far as km " + km_brief(row.reaches_km) + ", no permitted configuration beyond";
  }
  return words;
}

}  // namespace panup
