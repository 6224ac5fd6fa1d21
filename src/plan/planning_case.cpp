#include "plan/planning_case.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "plan/candidates.h"
#include "plan/known_changes.h"
#include "plan/long_train.h"
#include "plan/stays_down.h"
#include "plan/stopped.h"

namespace panup {

namespace {

/// What a piece looks like to judging. Pieces that compare equal share their judgements. Judging
/// gets nothing of a piece but its ground, so that nothing it reads can be left out here.
struct Looks {
  bool lowered = false;
  bool reversed = false;  ///< which of the judges
  Ground ground;
  // NOLINTNEXTLINE(readability-implicit-bool-conversion): the compiler writes it
  friend auto operator<=>(const Looks&, const Looks&) = default;
};

std::vector<JudgedSet> judged_sets(const PlanRequest& request, const Judge& judge,
                                   const Ground& ground) {
  const std::size_t most = most_permitted(judge, ground);
  std::vector<JudgedSet> sets;
  for (const PantographSet raised : configurations(choices_on(judge, ground))) {
    if (raised.size() > most) {
      continue;
    }
    end_if_stopped(request);
    const Verdict verdict = judge.judge(ground, raised, {});
    if (!verdict.forbidden) {
      sets.push_back({raised, verdict});
    }
  }
  return sets;
}

double lowest_speed_ms(const PlanningCase& planning, std::size_t piece) {
  if (planning.pieces[piece].lowered) {
    return planning.lowered_speed_kmh[piece] / 3.6;
  }
  double lowest = planning.section(piece).line_speed_kmh;
  for (const JudgedSet& judged : planning.sets_on(piece)) {
    lowest = std::min(lowest, judged.verdict.speed_kmh);
  }
  return lowest / 3.6;
}

/// The lowest speed at a border of pieces.
double border_speed_ms(const PlanningCase& planning, Passage passage, double beside_ms) {
  if (passage == Passage::standstill) {
    return 0;
  }
  if (passage == Passage::on_the_move) {
    const Rule* const rule = rule_in_force(planning.request->rules, RuleKind::change_on_the_move);
    return std::min(beside_ms, *number_of(*rule, "speed_kmh") / 3.6);
  }
  return beside_ms;
}

/// Whether a train runs on from one to the next as if they were one: they are apart only by a
/// separation section, a low place, or the wire over its rear.
bool is_one_with_the_next(const PlanningCase& planning, std::size_t i) {
  if (i + 1 >= planning.pieces.size()) {
    return false;
  }
  const Piece& piece = planning.pieces[i];
  const Piece& next = planning.pieces[i + 1];
  return next.entry == Passage::joined && !piece.lowered && !next.lowered &&
         piece.section == next.section && piece.iced == next.iced;
}

/// Whether the train has more configurations than can be judged in a time that one waits for.
bool is_long(const PlanningCase& planning, const std::vector<std::size_t>& first_pieces) {
  double all = 0;
  for (const std::size_t piece : first_pieces) {
    if (!planning.pieces[piece].lowered) {
      all += configuration_count(choices_on(planning.judge(piece), planning.ground(piece)));
    }
  }
  return all > static_cast<double>(planning.request->most_judged);
}

void judge_all(PlanningCase& planning, const std::vector<std::size_t>& first_pieces) {
  tbb::parallel_for(std::size_t{0}, first_pieces.size(), [&](std::size_t number) {
    const std::size_t piece = first_pieces[number];
    if (!planning.pieces[piece].lowered) {
      planning.grounds[number] =
          judged_sets(*planning.request, planning.judge(piece), planning.ground(piece));
    }
  });
}

/// Where that matters.
std::vector<Judge::Behind> behind_on(const PlanningCase& planning, std::size_t i) {
  const Piece& piece = planning.pieces[i];
  return piece.tail_matters && !piece.lowered
             ? behind_at(planning, i, (piece.from_km + piece.to_km) / 2)
             : std::vector<Judge::Behind>{};
}

}  // namespace

std::vector<double> useful_speeds_kmh(const PlanningCase& planning) {
  const std::size_t count = planning.pieces.size();
  const double train_length_m = planning.judges[0].train().layout.length_m;
  std::vector<double> lowest;
  for (std::size_t i = 0; i < count; ++i) {
    lowest.push_back(lowest_speed_ms(planning, i));
  }
  std::vector<double> speeds;
  while (speeds.size() < count) {
    const std::size_t i = speeds.size();
    std::size_t last = i;
    double length_m = planning.pieces[i].length_m();
    while (is_one_with_the_next(planning, last)) {
      length_m += planning.pieces[++last].length_m();
    }
    const double u =
        i == 0 ? 0 : border_speed_ms(planning, planning.pieces[i].entry, lowest[i - 1]);
    const double w = last + 1 == count ? 0
                                       : border_speed_ms(planning, planning.pieces[last + 1].entry,
                                                         lowest[last + 1]);
    // On the move the train speeds up only when its whole length has passed the border.
    const double room_m = u > 0 ? std::max(0.0, length_m - train_length_m) : length_m;
    speeds.resize(last + 1, 3.6 * reachable_ms(planning.request->train, room_m, u, w));
  }
  return speeds;
}

std::vector<Judge::Behind> behind_at(const PlanningCase& planning, std::size_t piece,
                                     double front_km) {
  const std::vector<Section>& sections = planning.request->route.sections;
  const RunningTrain& train = planning.judge(piece).train();
  std::vector<Judge::Behind> all;
  for (std::size_t p = 0; p < train.pantographs.size(); ++p) {
    const double km = place_km(planning.pieces[piece].leg, train.layout.length_m / 1000,
                               train.pantographs[p].from_front_m / 1000, front_km);
    const auto over = std::ranges::lower_bound(sections, km, {}, &Section::to_km);
    const Section* const section = over == sections.end() ? &sections.back() : &*over;
    if (section == &sections[planning.pieces[piece].section]) {
      continue;
    }
    const auto known = std::ranges::find(all, section, &Judge::Behind::section);
    if (known == all.end()) {
      all.push_back({section, PantographSet{p}});
    } else {
      known->under.insert(p);
    }
  }
  return all;
}

const JudgedSet* find_set(const std::vector<JudgedSet>& sets, PantographSet raised) {
  const auto found = std::ranges::lower_bound(sets, raised, {}, &JudgedSet::raised);
  return found == sets.end() || found->raised != raised ? nullptr : &*found;
}

PlanningCase prepare(const PlanRequest& request) {
  PlanningCase planning;
  planning.known_changes = std::make_shared<KnownChanges>();
  planning.request = &request;
  for (const bool reversed : {false, true}) {
    planning.judges.emplace_back(
        request.rules, request.train, reversed,
        DayWeather{request.conditions.wind_ms, request.conditions.temperature_c},
        request.computed_speeds);
  }
  planning.times = driver_times(request.rules);
  planning.terms = {
      .train_length_m = planning.judges[0].train().layout.length_m,
      .runnable_first = rule_in_force(request.rules, RuleKind::runnable_first) != nullptr};
  if (const Rule* const rule = rule_in_force(request.rules, RuleKind::change_on_the_move)) {
    planning.change_speed_kmh = number_of(*rule, "speed_kmh").value_or(0);
  }
  planning.zones = powerless_zones(request, planning.notes);
  planning.pieces = cut_into_pieces(request, planning.zones, planning.notes);
  std::map<Looks, std::size_t> seen;
  std::vector<std::size_t> first_piece;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    end_if_stopped(request);
    const Piece& piece = planning.pieces[i];
    std::vector<const LowPlace*> low_places;
    for (const std::size_t place : piece.low_places) {
      low_places.push_back(&request.route.low_places[place]);
    }
    planning.ground_at.push_back(planning.judge(i).ground(
        planning.section(i), piece.iced, std::move(low_places), behind_on(planning, i)));
    planning.ground_at.back().stays_down =
        stays_down_on(request, planning.judge(i).train(), planning.zones, piece);
    for (const std::size_t separation : piece.separations) {
      planning.ground_at.back().separations.push_back(&request.route.separations[separation]);
    }
    const auto [found, is_new] = seen.try_emplace(
        {.lowered = piece.lowered, .reversed = piece.reversed, .ground = planning.ground(i)},
        first_piece.size());
    if (is_new) {
      first_piece.push_back(i);
    }
    planning.ground_of_piece.push_back(found->second);
    planning.lowered_speed_kmh.push_back(
        piece.lowered ? planning.judge(i).judge_lowered(planning.ground(i)).speed_kmh : 0);
  }
  planning.grounds.resize(first_piece.size());
  tbb::task_arena arena(request.jobs > 0 ? request.jobs : tbb::task_arena::automatic);
  arena.execute([&] {
    if (is_long(planning, first_piece)) {
      search_long_train(planning, first_piece);
    } else {
      judge_all(planning, first_piece);
    }
  });
  planning.useful_speed_kmh = useful_speeds_kmh(planning);
  return planning;
}

}  // namespace panup
