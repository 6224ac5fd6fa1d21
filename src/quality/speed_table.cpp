#include "quality/speed_table.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <span>
#include <utility>

#include "quality/scan_rounds.h"
#include "rules/rule_book.h"

namespace panup {

namespace {

/// Scans side by side: many processes are kept busy, and lines drawn fit the memory.
constexpr std::size_t scans_at_once = 512;
/// Rows of each group that tell the cost of the others, where there are enough.
constexpr std::size_t most_pilots = 3;
constexpr std::size_t rows_for_each_pilot = 4;
/// Where the pilots are all kept, the first runs that are computed tell how long one takes: runs
/// asked for at once until then, and how many of them are enough.
constexpr std::size_t looked_up_at_once = 64;
constexpr std::size_t enough_timed = 128;

/// What the table asks for that has one line, one model and one number of pantographs.
struct Group {
  std::size_t line = 0;
  std::size_t pantograph = 0;
  EvenlySpaced spaced;
  SpacedQuestions questions;
};

std::vector<Group> groups_of(const SpeedTableRequest& request, SupportCases& supports) {
  std::vector<Group> groups;
  for (std::size_t line = 0; line < request.lines.size(); ++line) {
    for (std::size_t p = 0; p < request.pantographs.size(); ++p) {
      const TablePantograph& pantograph = request.pantographs[p];
      for (const int count : request.counts) {
        EvenlySpaced spaced{.line = request.lines[line],
                            .pantograph = pantograph.model,
                            .static_force_n = pantograph.static_force_n,
                            .supply = request.supply,
                            .count = count,
                            .knuckles = pantograph.knuckles,
                            .spacings_m = count == 1 ? std::vector<double>{0} : request.spacings_m,
                            .settings = request.settings};
        SpacedQuestions questions = questions_of(spaced, supports);
        groups.push_back({line, p, std::move(spaced), std::move(questions)});
      }
    }
  }
  return groups;
}

/// A row of the table, as it is to be computed.
struct Place {
  const Group* group = nullptr;
  std::size_t distance = 0;
  bool pilot = false;

  double train_m() const { return (group->spaced.count - 1) * group->spaced.spacings_m[distance]; }
  std::span<const SpeedQuestion> questions() const {
    const SpacedQuestions& all = group->questions;
    return std::span(all.all).subspan(distance * all.of_distance, all.of_distance);
  }
};

/// One row as the files say, or one sample of it.
struct Item {
  std::size_t row = 0;
  std::optional<int> sample;
};

/// Runs and their work, in a measure that the time they take goes with.
struct Amount {
  double runs = 0;
  double work = 0;

  Amount& operator+=(const Amount& other) {
    runs += other.runs;
    work += other.work;
    return *this;
  }
};

/// Steps in time by points of the grid, which is as fine as the step: the square of the length over
/// the speed and the square of the step.
double work_of(const SimulationRequest& request) {
  const double length = length_of(*request.line);
  const double step = request.settings.step_s.value_or(default_step_s);
  return length * length / (request.speed_kmh * step * step);
}

/// What the pilots of one group have shown.
struct Shown {
  /// By the length of train, of one row: as the files say, and of one sample.
  std::map<double, Amount> of_row;
  std::map<double, Amount> of_sample;
  double core_s_of_work = 0;  ///< 0: not known, for all were kept
};

/// Between the trains next to it; beyond them as the nearest.
Amount at(const std::map<double, Amount>& shown, double train_m) {
  const auto above = shown.lower_bound(train_m);
  if (above == shown.end()) {
    return shown.empty() ? Amount() : std::prev(above)->second;
  }
  if (above == shown.begin() || above->first == train_m) {
    return above->second;
  }
  const auto below = std::prev(above);
  const double share = (train_m - below->first) / (above->first - below->first);
  const auto between = [share](double a, double b) { return a + share * (b - a); };
  return {between(below->second.runs, above->second.runs),
          between(below->second.work, above->second.work)};
}

class Table {
 public:
  Table(const SpeedTableRequest& request, const TableRuns& runs, const CostKnown& known)
      : request_(request),
        source_(runs),
        known_(known),
        rule_(mechanics_rule(*request.rules)),
        settings_(scan_settings(rule_, request.to_kmh)),
        lines_(lines_for(rule_, false)),
        groups_(groups_of(request, supports_)),
        judging_{*request.rules, lines_, counted_, coarse_} {
    for (const Group& group : groups_) {
      for (std::size_t d = 0; d < group.spaced.spacings_m.size(); ++d) {
        places_.push_back({&group, d});
        table_.rows.push_back({.line = group.line,
                               .pantograph = group.pantograph,
                               .count = group.spaced.count,
                               .spacing_m = group.spaced.spacings_m[d],
                               .permitted = {},
                               .samples_kmh = {}});
        table_.rows.back().samples_kmh.resize(static_cast<std::size_t>(request.samples));
      }
    }
    if (request.samples > 0) {
      tolerances_ = tolerances_of(*rule_in_force(*request.rules, RuleKind::tolerances));
      table_.tolerances = in_words(tolerances_, request.rules->words);
    }
  }
  Table(const Table&) = delete;
  Table& operator=(const Table&) = delete;

  bool go() {
    if (!ask_pilots() || !tell_if(source_.spent().runs > 0)) {
      return false;
    }
    looking_ = true;
    std::vector<Item> items;
    for (std::size_t row = 0; row < places_.size(); ++row) {
      if (!places_[row].pilot) {
        items.push_back({row, {}});
      }
    }
    for (int sample = 0; sample < request_.samples; ++sample) {
      for (std::size_t row = 0; row < places_.size(); ++row) {
        if (sample > 0 || !places_[row].pilot) {
          items.push_back({row, sample});
        }
      }
    }
    std::size_t from = 0;
    while (from < items.size()) {
      std::size_t to = from;
      for (std::size_t scans = 0; to < items.size() && scans < scans_at_once; ++to) {
        scans += places_[items[to].row].questions().size();
      }
      if (!finish(std::span(items).subspan(from, to - from))) {
        return false;
      }
      from = to;
    }
    done_ = true;
    return tell_if(true);
  }

  SpeedTable take() { return std::move(table_); }

 private:
  /// Some rows of each group: of the shortest, the middle and the longest train.
  bool ask_pilots() {
    for (std::size_t from = 0; from < places_.size();) {
      std::size_t to = from;
      while (to < places_.size() && places_[to].group == places_[from].group) {
        ++to;
      }
      Shown& shown = shown_.emplace_back();
      const RunsSpent before = source_.spent();
      Amount all;
      for (const bool sampled : {false, true}) {
        if (sampled && request_.samples == 0) {
          break;
        }
        std::vector<Item> items;
        for (const std::size_t row : pilots_of(from, to)) {
          places_[row].pilot = true;
          items.push_back({row, sampled ? std::optional(0) : std::nullopt});
        }
        by_train_.clear();
        if (!finish(items)) {
          return false;
        }
        for (const auto& [train_m, amount] : by_train_) {
          all += amount;
        }
        (sampled ? shown.of_sample : shown.of_row) = by_train_;
      }
      const RunsSpent spent = source_.spent();
      if (spent.runs > before.runs) {
        shown.core_s_of_work = (spent.core_s - before.core_s) /
                               static_cast<double>(spent.runs - before.runs) * all.runs / all.work;
      }
      from = to;
    }
    return true;
  }

  /// Rows of a group stand by the length of their trains.
  static std::vector<std::size_t> pilots_of(std::size_t from, std::size_t to) {
    const std::size_t rows = to - from;
    const std::size_t number = std::clamp<std::size_t>(rows / rows_for_each_pilot, 1, most_pilots);
    std::vector<std::size_t> pilots;
    for (std::size_t i = 0; i < number; ++i) {
      pilots.push_back(from + (number == 1 ? rows / 2 : i * (rows - 1) / (number - 1)));
    }
    return pilots;
  }

  /// Finishes the scans of some items side by side, and takes down what comes of them.
  bool finish(std::span<const Item> items) {
    DrawnSamples drawn;
    std::vector<SpeedQuestion> questions;
    for (const Item& item : items) {
      for (const SpeedQuestion& question : places_[item.row].questions()) {
        questions.push_back(item.sample
                                ? drawn.question(question, lines_, tolerances_, request_.seed,
                                                 static_cast<std::uint64_t>(*item.sample))
                                : question);
      }
    }
    std::vector<SpeedScan> scans(questions.size(), SpeedScan(settings_));
    if (!finish_scans(judging_, questions, scans)) {
      return false;
    }
    std::size_t first = 0;
    for (const Item& item : items) {
      const Place& place = places_[item.row];
      const std::size_t number = place.questions().size();
      take_down(item, place,
                worst_of(std::span(scans).subspan(first, number), place.group->questions));
      first += number;
    }
    return true;
  }

  void take_down(const Item& item, const Place& place, WorstDirection worst) {
    SpeedTableRow& row = table_.rows[item.row];
    if (item.sample) {
      row.samples_kmh[static_cast<std::size_t>(*item.sample)] = worst.permitted.speed_kmh;
      return;
    }
    row.permitted = std::move(worst.permitted);
    row.knuckle = place.group->spaced.knuckles[worst.direction];
    row.judged = row.permitted.judged.size();
    row.coarse = static_cast<std::size_t>(
        std::ranges::count(row.permitted.judged, true, &JudgedSpeed::coarse));
    row.permitted.judged = {};
    add_static_force_warnings(row.permitted, place.questions().front());
  }

  /// The runs, counted. Where it is still looked for the first that are not kept, a few at a time,
  /// so that the cost is told before many are computed.
  std::optional<std::vector<RunFigures>> run(const std::vector<SimulationRequest>& requests) {
    const bool few = looking_ && !told_;
    const std::size_t at_once = few ? looked_up_at_once : requests.size();
    std::vector<RunFigures> figures;
    figures.reserve(requests.size());
    for (std::size_t from = 0; from < requests.size(); from += at_once) {
      const std::size_t to = std::min(from + at_once, requests.size());
      const std::vector<SimulationRequest> some(
          requests.begin() + static_cast<std::ptrdiff_t>(from),
          requests.begin() + static_cast<std::ptrdiff_t>(to));
      const std::size_t computed_before = source_.spent().runs;
      auto of_some = source_.runs(some);
      if (!of_some) {
        return std::nullopt;
      }
      const double computed = static_cast<double>(source_.spent().runs - computed_before) /
                              static_cast<double>(some.size());
      std::ranges::move(*of_some, std::back_inserter(figures));
      for (const SimulationRequest& request : some) {
        const Amount amount{1, work_of(request)};
        by_train_[request.pantographs.back().behind_first_m] += amount;
        asked_ += amount;
        if (few) {
          // Which of them were kept is not known; neighbours take about the same work.
          timed_ += {computed * amount.runs, computed * amount.work};
        }
      }
      if (few && !tell_if(source_.spent().runs >= enough_timed)) {
        return std::nullopt;
      }
    }
    return figures;
  }

  /// Tells the cost, unless that was done. False: it is not wanted to go on.
  bool tell_if(bool is_known) {
    if (told_ || !is_known) {
      return true;
    }
    told_ = true;
    return !known_ || known_(cost());
  }

  TableCost cost() const {
    const RunsSpent spent = source_.spent();
    double core_s = 0;
    // Where the pilots of none were computed, the runs computed since then tell it.
    double known_work = 0;
    for (const Shown& shown : shown_) {
      core_s += shown.core_s_of_work;
      known_work += shown.core_s_of_work > 0 ? 1 : 0;
    }
    const double of_work = known_work > 0    ? core_s / known_work
                           : timed_.work > 0 ? spent.core_s / timed_.work
                                             : 0;
    Amount whole;
    double core_s_whole = 0;
    for (const Place& place : places_) {
      const Shown& shown = shown_[static_cast<std::size_t>(place.group - groups_.data())];
      Amount of_row = at(shown.of_row, place.train_m());
      const Amount of_sample = at(shown.of_sample, place.train_m());
      of_row.runs += request_.samples * of_sample.runs;
      of_row.work += request_.samples * of_sample.work;
      whole += of_row;
      core_s_whole += of_row.work * (shown.core_s_of_work > 0 ? shown.core_s_of_work : of_work);
    }
    TableCost cost;
    cost.computed = spent.runs;
    cost.spent_core_s = spent.core_s;
    cost.kept = static_cast<std::size_t>(asked_.runs) - spent.runs;
    if (done_) {
      return cost;
    }
    const double left = std::max(0.0, whole.runs - asked_.runs);
    const double left_work = std::max(0.0, whole.work - asked_.work);
    cost.runs_left = static_cast<std::size_t>(std::llround(left));
    cost.core_s_left = whole.work > 0 ? core_s_whole * left_work / whole.work : 0;
    return cost;
  }

  const SpeedTableRequest& request_;
  const TableRuns& source_;
  const CostKnown& known_;
  const Rule& rule_;
  ScanSettings settings_;
  Tolerances tolerances_;
  EvaluatedLines lines_;
  SupportCases supports_;
  CoarseRunsByLine coarse_;
  std::vector<Group> groups_;
  RunSource counted_ = [this](const std::vector<SimulationRequest>& requests) {
    return run(requests);
  };
  Judging judging_;
  std::vector<Place> places_;          ///< by row
  std::vector<Shown> shown_;           ///< by group
  std::map<double, Amount> by_train_;  ///< asked for since it was cleared, by the length of train
  Amount asked_;                       ///< so far
  Amount timed_;                       ///< computed since the pilots, until the cost was told
  bool looking_ = false;
  bool told_ = false;
  bool done_ = false;
  SpeedTable table_;
};

}  // namespace

std::optional<SpeedTable> compute_speed_table(const SpeedTableRequest& request,
                                              const TableRuns& runs, const CostKnown& known) {
  Table computed(request, runs, known);
  if (!computed.go()) {
    return std::nullopt;
  }
  SpeedTable table = computed.take();
  table.criteria = criteria_in_words(*request.rules, request.supply);
  for (const ContactLine* const line : request.lines) {
    table.wave_speeds_kmh.push_back(facts_of(*line, request.supply, 0).wave_speed_kmh);
    for (std::string& words : not_judged(*request.rules, request.supply, *line)) {
      if (std::ranges::find(table.not_judged, words) == table.not_judged.end()) {
        table.not_judged.push_back(std::move(words));
      }
    }
  }
  return table;
}

}  // namespace panup
