#include "plan/long_train.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "plan/least_cost.h"
#include "plan/preferred_sets.h"
#include "plan/stopped.h"
#include "plan/way.h"

namespace panup {

namespace {

class LongTrainSearch {
 public:
  LongTrainSearch(PlanningCase& planning, std::span<const std::size_t> first_pieces)
      : planning_(planning),
        first_pieces_(first_pieces),
        tried_(first_pieces.size()),
        choices_(first_pieces.size()) {}

  void run();

 private:
  template <typename Work>
  void for_each_ground(const Work& work) const {
    tbb::parallel_for(std::size_t{0}, first_pieces_.size(), [&](std::size_t ground) {
      if (!planning_.pieces[first_pieces_[ground]].lowered) {
        end_if_stopped(*planning_.request);
        work(ground);
      }
    });
  }

  const Judge& judge_of(std::size_t ground) const { return planning_.judge(first_pieces_[ground]); }
  const Ground& ground(std::size_t ground) const { return planning_.ground(first_pieces_[ground]); }

  void judge_on(std::size_t ground, const std::vector<PantographSet>& sets);
  void judge_everywhere(const std::vector<PantographSet>& sets);
  void judge_preferred();
  /// More up than serves: what is slowest on a ground decides how fast the train is taken to enter
  /// it and to leave it (`useful_speed_kmh`).
  void judge_slow(std::size_t ground, PantographSet liked);
  std::vector<PantographSet> neighbours(std::size_t ground, PantographSet set,
                                        PantographSet with_another) const;
  /// Judges what is near the way; false if all of it has been judged before.
  bool judge_around(const Way& way, PantographSet defective, PantographSet with_another);
  Way improve(PantographSet defective);
  /// Where vehicles go dead, the ladder asks what the others leave exposed at best: judges that.
  void judge_protecting(std::size_t ground);
  void judge_after_failures(const Way& way);
  void forget_worse();

  PlanningCase& planning_;
  std::span<const std::size_t> first_pieces_;
  std::set<PantographSet> used_;                      ///< by some way
  std::vector<std::set<PantographSet>> tried_;        ///< by ground, forbidden ones too
  std::vector<std::vector<VehicleChoices>> choices_;  ///< by ground, narrowed
};

void LongTrainSearch::judge_on(std::size_t ground, const std::vector<PantographSet>& sets) {
  std::vector<JudgedSet>& judged = planning_.grounds[ground];
  const std::size_t before = judged.size();
  for (const PantographSet set : sets) {
    if (!tried_[ground].insert(set).second) {
      continue;
    }
    const Verdict verdict = judge_of(ground).judge(this->ground(ground), set, {});
    if (!verdict.forbidden) {
      judged.push_back({set, verdict});
    }
  }
  const auto added = judged.begin() + static_cast<std::ptrdiff_t>(before);
  std::ranges::sort(added, judged.end(), {}, &JudgedSet::raised);
  std::ranges::inplace_merge(judged, added, {}, &JudgedSet::raised);
}

void LongTrainSearch::judge_everywhere(const std::vector<PantographSet>& sets) {
  for_each_ground([&](std::size_t ground) { judge_on(ground, sets); });
}

void LongTrainSearch::judge_slow(std::size_t ground, PantographSet liked) {
  std::vector<PantographSet> slow;
  PantographSet all;
  for (const VehicleChoices& choices : choices_on(judge_of(ground), this->ground(ground))) {
    for (const PantographSet set : choices.sets) {
      if (set.size() > 1) {
        slow.push_back(set);
        slow.push_back((liked - choices.vehicle->all) | set);
      }
    }
    all |= choices.sets.back();
  }
  slow.push_back(all);
  judge_on(ground, slow);
}

void LongTrainSearch::judge_preferred() {
  constexpr std::size_t most_on_all = 300;
  const PantographSet defective = planning_.judges[0].train().defective;
  std::vector<std::vector<PantographSet>> preferred(first_pieces_.size());
  for_each_ground([&](std::size_t g) {
    choices_[g] = narrowed(judge_of(g), ground(g), choices_on(judge_of(g), ground(g)));
    preferred[g] = preferred_sets(judge_of(g), ground(g), choices_[g], defective, planning_.terms);
    judge_on(g, preferred[g]);
    judge_slow(g, preferred[g].empty() ? PantographSet{} : preferred[g].front());
  });
  // What stands first in some list comes before what stands second in all.
  std::vector<PantographSet> shared;
  std::set<PantographSet> known;
  for (std::size_t rank = 0, more = 1; more > 0 && shared.size() < most_on_all; ++rank) {
    more = 0;
    for (const std::vector<PantographSet>& sets : preferred) {
      if (rank < sets.size()) {
        ++more;
        if (known.insert(sets[rank]).second) {
          shared.push_back(sets[rank]);
        }
      }
    }
  }
  judge_everywhere(shared);
}

/// What differs from the set by what is up on one vehicle, or on one of `with_another` and a
/// second.
std::vector<PantographSet> LongTrainSearch::neighbours(std::size_t ground, PantographSet set,
                                                       PantographSet with_another) const {
  const std::vector<VehicleChoices>& all = choices_[ground];
  std::vector<PantographSet> near;
  for (std::size_t v = 0; v < all.size(); ++v) {
    for (const PantographSet one : all[v].sets) {
      const PantographSet changed = (set - all[v].vehicle->all) | one;
      near.push_back(changed);
      if (!with_another.intersects(all[v].vehicle->all)) {
        continue;
      }
      for (std::size_t w = 0; w < all.size(); ++w) {
        for (const PantographSet other : all[w].sets) {
          if (w != v) {
            near.push_back((changed - all[w].vehicle->all) | other);
          }
        }
      }
    }
  }
  return near;
}

/// Of each choice of working vehicles, the one that exposes least.
std::map<PantographSet, const JudgedSet*> least_exposing(const RunningTrain& train,
                                                         const std::vector<JudgedSet>& sets) {
  const auto exposed = [](const JudgedSet& one) {
    return std::pair(one.verdict.exposed_dangerous, one.verdict.exposed_sensitive);
  };
  std::map<PantographSet, const JudgedSet*> least;
  for (const JudgedSet& one : sets) {
    const JudgedSet*& known = least[working_in(train, one.raised)];
    known = known == nullptr || exposed(one) < exposed(*known) ? &one : known;
  }
  return least;
}

void LongTrainSearch::judge_protecting(std::size_t ground) {
  std::uint16_t fewest = std::numeric_limits<std::uint16_t>::max();
  for (const JudgedSet& one : planning_.grounds[ground]) {
    fewest = std::min(fewest, one.verdict.put_dead);
  }
  std::vector<PantographSet> more;
  for (const auto& [working, best] :
       least_exposing(judge_of(ground).train(), planning_.grounds[ground])) {
    const Verdict& verdict = best->verdict;
    if (verdict.put_dead == 0 || verdict.put_dead > fewest ||
        (verdict.exposed_dangerous == 0 && verdict.exposed_sensitive == 0)) {
      continue;
    }
    for (const VehicleChoices& choices : choices_[ground]) {
      for (const PantographSet set : choices.sets) {
        if (!set.empty() && working.intersects(choices.vehicle->all)) {
          more.push_back((best->raised - choices.vehicle->all) | set);
        }
      }
    }
  }
  judge_on(ground, more);
}

bool LongTrainSearch::judge_around(const Way& way, PantographSet defective,
                                   PantographSet with_another) {
  std::vector<std::set<PantographSet>> near(first_pieces_.size());
  std::set<PantographSet> used;
  for (std::size_t i = 0; i < way.raised.size(); ++i) {
    const std::size_t ground = planning_.ground_of_piece[i];
    if (way.raised[i] == blocked || planning_.pieces[i].lowered) {
      continue;
    }
    used.insert(*way.raised[i]);
    for (const PantographSet set : neighbours(ground, *way.raised[i], with_another)) {
      if (!set.intersects(defective)) {
        near[ground].insert(set);
      }
    }
  }
  std::vector<std::size_t> before;
  for (const std::set<PantographSet>& tried : tried_) {
    before.push_back(tried.size());
  }
  judge_everywhere({used.begin(), used.end()});
  used_.insert(used.begin(), used.end());
  for_each_ground([&](std::size_t ground) {
    judge_on(ground, {near[ground].begin(), near[ground].end()});
    judge_protecting(ground);
  });
  for (std::size_t ground = 0; ground < tried_.size(); ++ground) {
    if (tried_[ground].size() != before[ground]) {
      return true;
    }
  }
  return false;
}

Way LongTrainSearch::improve(PantographSet defective) {
  constexpr int most_rounds = 8;
  PantographSet every;
  for (const RunningVehicle& vehicle : planning_.judges[0].train().vehicles) {
    every |= vehicle.all;
  }
  for (int round = 0;; ++round) {
    planning_.useful_speed_kmh = useful_speeds_kmh(planning_);
    Way way = find_way(planning_, defective);
    if (round == most_rounds || !judge_around(way, defective, every)) {
      return way;
    }
  }
}

/// Each pantograph of the way may fail. What is liked without it is looked for where it is up
/// longest.
void LongTrainSearch::judge_after_failures(const Way& way) {
  const PantographSet defective = planning_.judges[0].train().defective;
  std::map<std::size_t, std::map<std::size_t, double>> up_km;  // by pantograph, then by ground
  for (std::size_t i = 0; i < way.raised.size(); ++i) {
    if (way.raised[i] != blocked && !planning_.pieces[i].lowered) {
      for (const std::size_t p : *way.raised[i]) {
        up_km[p][planning_.ground_of_piece[i]] +=
            planning_.pieces[i].to_km - planning_.pieces[i].from_km;
      }
    }
  }
  for (const auto& [p, by_ground] : up_km) {
    const std::size_t g =
        std::ranges::max_element(by_ground, {}, [](const auto& one) { return one.second; })->first;
    const PantographSet down = defective | PantographSet{p};
    judge_everywhere(preferred_sets(judge_of(g), ground(g), choices_[g], down, planning_.terms));
    judge_around(find_way(planning_, down), down, PantographSet{p});
    judge_around(find_way(planning_, down), down, {});  // what is used now is kept
  }
}

/// Keeps what ways use and what the ladder likes on each ground: the rest would be tried again for
/// every failure.
void LongTrainSearch::forget_worse() {
  constexpr std::size_t kept = 60;
  constexpr std::size_t kept_of_number = 5;
  for_each_ground([&](std::size_t ground) {
    std::vector<JudgedSet>& judged = planning_.grounds[ground];
    std::vector<std::pair<LadderCost, PantographSet>> by_cost;
    for (const JudgedSet& one : judged) {
      by_cost.emplace_back(cost_of(one.verdict, 1000, planning_.terms), one.raised);
    }
    std::ranges::sort(by_cost);
    std::set<PantographSet> best;
    std::map<std::size_t, std::size_t> of_number;
    for (const auto& [cost, raised] : by_cost) {
      if (best.size() < kept || of_number[raised.size()] < kept_of_number) {
        best.insert(raised);
        ++of_number[raised.size()];
      }
    }
    for (const auto& [working, least] : least_exposing(judge_of(ground).train(), judged)) {
      best.insert(least->raised);
    }
    const auto slowest = std::ranges::min_element(
        judged, {}, [](const JudgedSet& one) { return one.verdict.speed_kmh; });
    if (slowest != judged.end()) {
      best.insert(slowest->raised);
    }
    std::erase_if(judged, [&](const JudgedSet& one) {
      return !best.contains(one.raised) && !used_.contains(one.raised);
    });
  });
}

void LongTrainSearch::run() {
  judge_preferred();
  const PantographSet defective = planning_.judges[0].train().defective;
  judge_after_failures(improve(defective));
  forget_worse();
  planning_.useful_speed_kmh = useful_speeds_kmh(planning_);
  Search& search = planning_.search.emplace();
  for (std::size_t ground = 0; ground < first_pieces_.size(); ++ground) {
    if (!planning_.pieces[first_pieces_[ground]].lowered) {
      search.configurations =
          std::max(search.configurations,
                   configuration_count(choices_on(judge_of(ground), this->ground(ground))));
      search.judged = std::max(search.judged, tried_[ground].size());
    }
  }
  search.least = least_cost(planning_, defective);
}

}  // namespace

void search_long_train(PlanningCase& planning, std::span<const std::size_t> first_pieces) {
  planning.search.emplace();  // judging a change asks for it
  LongTrainSearch(planning, first_pieces).run();
}

}  // namespace panup
