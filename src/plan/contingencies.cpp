#include "plan/contingencies.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include "plan/course.h"
#include "plan/explain.h"
#include "plan/instructions.h"
#include "plan/planned_sections.h"
#include "plan/stopped.h"

namespace panup {

namespace {

std::string road_text(const PlanningCase& planning, std::size_t piece, PantographSet failed,
                      const RoadFailure& failure) {
  const Words& words = planning.words();
  const RunningTrain& train = planning.judge(piece).train();
  const std::string what = list_of(train, failed);
  if (failure.stranded) {
    return words.say(
        "{} fails: no permitted configuration is left here; the train stands until "
        "help comes.",
        what);
  }
  std::string text = words.say("{} fails: stop, lower it, raise {}", what,
                               list_of(train, set_of(train, failure.raised)));
  for (const int number : failure.put_dead_in_tow) {
    text += words.say(", vehicle {} goes dead in tow", number);
  }
  text += words.say("; {:g} km/h", failure.speed_kmh);
  if (failure.answer == Answer::consent_needed) {
    text += words.say(", only with consent of the infrastructure manager");
    text += failure.without_consent.empty()
                ? std::string()
                : words.say(" (without it: {})", failure.without_consent);
  }
  const double end_km = planning.pieces.back().to_km;
  text += failure.reaches_km < end_km
              ? words.say("; as far as km {:.3f}, no permitted configuration beyond",
                          failure.reaches_km)
              : words.say("; to {}", end_words(planning.request->route, words));
  return text + ".";
}

/// A stretch of a piece on which the same pantographs stand under the same wire.
struct RoadStretch {
  std::size_t piece = 0;
  double from_km = 0;
  double to_km = 0;
  Ground ground;  ///< with the wire over every pantograph
};

/// The pantographs that cannot go up where the train stands, since they are in a lowered stretch
/// that the front has passed, or have it still before them.
PantographSet before_end_of(const PlanningCase& planning, const Piece& piece,
                            const PowerlessZone& zone, double front_km) {
  const RunningTrain& train = planning.judges[piece.reversed ? 1 : 0].train();
  const double length_km = train.layout.length_m / 1000;
  PantographSet before;
  for (std::size_t p = 0; p < train.pantographs.size(); ++p) {
    const double behind_km = train.pantographs[p].from_front_m / 1000;
    const double km = place_km(piece.leg, length_km, behind_km, front_km);
    const bool came_under = piece.leg.turned && front_km - behind_km < piece.leg.start_km;
    const bool has_it_before =
        came_under ? zone.from_km < km && zone.from_km < piece.leg.start_km
                   : km < zone.to_km && zone.from_km < front_km && zone.to_km > piece.leg.start_km;
    if (has_it_before) {
      before.insert(p);
    }
  }
  return before;
}

/// The train may have to stop anywhere: a piece is cut where a pantograph passes into its section,
/// or out of a lowered stretch.
std::vector<RoadStretch> road_stretches(const PlanningCase& planning, std::size_t i) {
  const Piece& piece = planning.pieces[i];
  const RunningTrain& train = planning.judge(i).train();
  const double length_km = train.layout.length_m / 1000;
  std::set<double> kms{piece.from_km, piece.to_km};
  const std::vector<Section>& sections = planning.request->route.sections;
  for (auto section =
           std::ranges::lower_bound(sections, piece.from_km - 2 * length_km, {}, &Section::to_km);
       section != sections.end() && section->from_km <= piece.to_km; ++section) {
    for (const PlacedPantograph& placed : train.pantographs) {
      const double km =
          front_past_km(piece.leg, length_km, placed.from_front_m / 1000, section->to_km);
      if (km > piece.from_km && km < piece.to_km) {
        kms.insert(km);
      }
    }
  }
  std::vector<const PowerlessZone*> lowered;
  for (const PowerlessZone& zone : planning.zones) {
    if (!zone.lowered || zone.from_km > piece.to_km || zone.to_km < piece.from_km - 2 * length_km) {
      continue;
    }
    lowered.push_back(&zone);
    for (const PlacedPantograph& placed : train.pantographs) {
      const double km = front_past_km(piece.leg, length_km, placed.from_front_m / 1000, zone.to_km);
      if (km > piece.from_km && km < piece.to_km) {
        kms.insert(km);
      }
    }
  }
  std::vector<RoadStretch> stretches;
  for (auto km = kms.begin(); std::next(km) != kms.end(); ++km) {
    const double middle_km = (*km + *std::next(km)) / 2;
    const std::vector<Judge::Behind> behind = behind_at(planning, i, middle_km);
    Ground ground = planning.ground(i);
    if (!behind.empty()) {
      ground = planning.judge(i).ground(planning.section(i), piece.iced, ground.low_places, behind);
      ground.separations = planning.ground(i).separations;
    }
    // What the orders leave no room for from the last stand may go up where the train stands now.
    ground.stays_down.clear();
    for (const PowerlessZone* const zone : lowered) {
      ground.stays_down.push_back({before_end_of(planning, piece, *zone, middle_km),
                                   planning.words().say("It would go up in {}", zone->name)});
    }
    stretches.push_back({i, *km, *std::next(km), std::move(ground)});
  }
  return stretches;
}

/// What goes up, and how far the train comes with it and what may follow.
struct GoingOn {
  RaisedOrBlocked raised;
  std::size_t first_blocked = 0;
};

std::size_t first_blocked_from(const PlanningCase& planning, const Way& way, std::size_t i) {
  while (i < planning.pieces.size() && (planning.pieces[i].lowered || way.raised[i] != blocked)) {
    ++i;
  }
  return i;
}

/// The best from a stand on the stretch: that from a stand on the piece, if it is permitted also
/// under the wire behind the front; else the best by itself that is.
GoingOn going_on(const PlanningCase& planning, const RoadStretch& stretch, PantographSet failed,
                 const Way& without) {
  const std::size_t i = stretch.piece;
  const Judge& judge = planning.judge(i);
  const RaisedOrBlocked best = without.after_stand[i];
  if (best == blocked || !judge.judge(stretch.ground, *best, failed).forbidden) {
    return {best, without.after_stand_blocked[i]};
  }
  std::vector<JudgedSet> sets;
  for (const JudgedSet& judged : planning.sets_on(i)) {
    if (const Verdict verdict = judge.judge(stretch.ground, judged.raised, failed);
        !verdict.forbidden) {
      sets.push_back({judged.raised, verdict});
    }
  }
  const PantographSet defective = judge.train().defective | failed;
  const JudgedSet* const other = best_of(planning, i, sets, defective);
  if (other == nullptr) {
    return {blocked, i};
  }
  const Way with = find_way(planning, defective, Forced{.piece = i, .raised = other->raised});
  return {other->raised, first_blocked_from(planning, with, i)};
}

/// A lower speed of the wire behind the front is told only where the train could be faster before
/// it has left that wire: it starts from a stand.
double told_speed_kmh(const PlanningCase& planning, const RoadStretch& stretch,
                      PantographSet raised, double speed_kmh) {
  const RunningTrain& train = planning.judge(stretch.piece).train();
  double behind_m = 0;
  for (const std::size_t p : raised) {
    behind_m = std::max(behind_m, train.pantographs[p].from_front_m);
  }
  if (reached_from_stand_kmh(planning.request->train, behind_m) > speed_kmh) {
    return speed_kmh;
  }
  return planning.judge(stretch.piece).judge(planning.ground(stretch.piece), raised, {}).speed_kmh;
}

RoadFailure failure_on(const PlanningCase& planning, const RoadStretch& stretch,
                       PantographSet failed, const Way& without) {
  const std::size_t i = stretch.piece;
  const RunningTrain& train = planning.judge(i).train();
  const GoingOn on = going_on(planning, stretch, failed, without);
  RoadFailure failure;
  failure.from_km = stretch.from_km;
  failure.to_km = stretch.to_km;
  failure.stranded = on.raised == blocked;
  failure.reaches_km = failure.stranded ? failure.from_km
                       : on.first_blocked < planning.pieces.size()
                           ? planning.pieces[on.first_blocked].from_km
                           : planning.pieces.back().to_km;
  if (failure.stranded) {
    failure.answer = Answer::none;
  } else {
    // With findings: only then the mechanics is asked for a speed it does not know yet.
    std::vector<Finding> findings;
    const Verdict verdict =
        planning.judge(i).judge(stretch.ground, *on.raised, failed,
                                planning.request->computed_speeds == nullptr ? nullptr : &findings);
    failure.answer = needs_consent(verdict) ? Answer::consent_needed : Answer::permitted;
    if (needs_consent(verdict)) {
      failure.without_consent = without_consent(planning, i, *on.raised, train.defective | failed);
    }
    failure.raised = refs_of(train, *on.raised);
    failure.put_dead_in_tow = put_dead(train, *on.raised);
    failure.speed_kmh = told_speed_kmh(planning, stretch, *on.raised, verdict.speed_kmh);
  }
  failure.text = road_text(planning, i, failed, failure);
  return failure;
}

/// Alike but for where it begins and ends; a stranded train is told apart by nothing else.
bool continues(const RoadFailure& before, const RoadFailure& after) {
  return before.to_km == after.from_km && before.text == after.text;
}

/// What is told of some stretches in a row.
struct RoadRow {
  RoadFailure failure;
  std::vector<RoadStretch> stretches;
};

/// Whether what is told of one row would do on the stretches of another beside it.
bool does_too(const PlanningCase& planning, PantographSet failed, const RoadFailure& told,
              const RoadRow& row) {
  return !told.stranded && std::ranges::all_of(row.stretches, [&](const RoadStretch& stretch) {
    const Judge& judge = planning.judge(stretch.piece);
    const Verdict verdict = judge.judge(stretch.ground, set_of(judge.train(), told.raised), failed);
    return !verdict.forbidden && verdict.speed_kmh >= told.speed_kmh &&
           needs_consent(verdict) == (told.answer == Answer::consent_needed);
  });
}

/// A few metres get no row of their own where that of a neighbour does: no driver tells them apart.
void join_short_rows(const PlanningCase& planning, PantographSet failed,
                     std::vector<RoadRow>& rows) {
  constexpr double few_km = 0.05;
  for (std::size_t i = 0; i < rows.size();) {
    const RoadFailure& failure = rows[i].failure;
    const bool is_short = failure.to_km - failure.from_km < few_km;
    RoadFailure* const before = i > 0 ? &rows[i - 1].failure : nullptr;
    RoadFailure* const after = i + 1 < rows.size() ? &rows[i + 1].failure : nullptr;
    if (is_short && before != nullptr && before->to_km == failure.from_km &&
        does_too(planning, failed, *before, rows[i])) {
      before->to_km = failure.to_km;
    } else if (is_short && after != nullptr && after->from_km == failure.to_km &&
               does_too(planning, failed, *after, rows[i])) {
      after->from_km = failure.from_km;
    } else {
      ++i;
      continue;
    }
    rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(i));
  }
}

std::vector<RoadFailure> failures_on_the_road(const PlanningCase& planning, const Way& way,
                                              PantographSet failed, const Way& without) {
  std::vector<RoadRow> rows;
  double up_from_km = planning.pieces.front().from_km;
  const std::size_t reached = first_blocked_from(planning, way, 0);
  for (std::size_t i = 0; i < reached; ++i) {
    if (planning.pieces[i].lowered || !way.raised[i]->intersects(failed)) {
      continue;
    }
    end_if_stopped(*planning.request);
    if (i > 0 && planning.pieces[i - 1].lowered) {
      // All go up when the last one has left the lowered stretch.
      for (const std::size_t p : *way.raised[i]) {
        up_from_km =
            std::max(up_from_km, planning.pieces[i - 1].to_km +
                                     planning.judge(i).train().pantographs[p].from_front_m / 1000);
      }
    }
    for (RoadStretch& stretch : road_stretches(planning, i)) {
      stretch.from_km = std::max(stretch.from_km, up_from_km);
      if (stretch.from_km >= stretch.to_km) {
        continue;
      }
      RoadFailure failure = failure_on(planning, stretch, failed, without);
      if (rows.empty() || !continues(rows.back().failure, failure)) {
        rows.push_back({std::move(failure), {}});
      } else {
        rows.back().failure.to_km = failure.to_km;
      }
      rows.back().stretches.push_back(std::move(stretch));
    }
  }
  join_short_rows(planning, failed, rows);
  std::vector<RoadFailure> failures;
  for (RoadRow& row : rows) {
    failures.push_back(std::move(row.failure));
  }
  return failures;
}

bool differ(const std::vector<PlannedSection>& a, const std::vector<PlannedSection>& b) {
  const auto alike = [](const PlannedSection& x, const PlannedSection& y) {
    return x.from_km == y.from_km && x.to_km == y.to_km && x.raised == y.raised &&
           x.put_dead_in_tow == y.put_dead_in_tow &&
           x.permitted_speed_kmh == y.permitted_speed_kmh && x.answer == y.answer;
  };
  return !std::ranges::equal(a, b, alike);
}

Contingency contingency_in(const PlanningCase& planning, const Way& way,
                           const std::vector<PlannedSection>& planned, std::size_t p) {
  const RunningTrain& train = planning.judges[0].train();
  const PantographSet failed = PantographSet{p};
  const PantographSet defective = train.defective | failed;
  const Course course = find_course(planning, defective);
  const Way& without = course.way;
  Contingency contingency;
  contingency.failed = train.pantographs[p].ref;
  contingency.sections = planned_sections(planning, course, defective);
  contingency.instructions = write_instructions(planning, without, course.orders.all);
  contingency.answer = worst(contingency.sections);
  contingency.running_time_s = static_cast<double>(without.cost[Rung::time]) / 1000;
  contingency.changes_the_plan = differ(planned, contingency.sections);
  contingency.on_the_road = failures_on_the_road(planning, way, failed, without);
  return contingency;
}

Contingency contingency_for(const PlanningCase& planning, const Way& way,
                            const std::vector<PlannedSection>& planned, std::size_t p) {
  const RunningTrain& train = planning.judges[0].train();
  if (!train.kept_up.contains(p)) {
    return contingency_in(planning, way, planned, p);
  }
  // What has failed cannot be up by order: everything is judged anew without the order.
  const PantographRef failed = train.pantographs[p].ref;
  PlanRequest request = *planning.request;
  std::erase(vehicle_numbered(request.train, failed.vehicle)->kept_up, failed.pantograph);
  return contingency_in(prepare(request), way, planned, p);
}

}  // namespace

std::vector<Contingency> find_contingencies(const PlanningCase& planning, const Way& way,
                                            const std::vector<PlannedSection>& planned, int jobs) {
  const RunningTrain& train = planning.judges[0].train();
  PantographSet able;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (!vehicle.dead) {
      able |= vehicle.all - train.defective;
    }
  }
  std::vector<std::size_t> failing;
  std::ranges::copy(able, std::back_inserter(failing));
  std::vector<Contingency> contingencies(failing.size());
  tbb::task_arena arena(jobs > 0 ? jobs : tbb::task_arena::automatic);
  arena.execute([&] {
    tbb::parallel_for(std::size_t{0}, failing.size(), [&](std::size_t i) {
      contingencies[i] = contingency_for(planning, way, planned, failing[i]);
    });
  });
  return contingencies;
}

}  // namespace panup
