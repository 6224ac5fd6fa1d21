#include "dynamics/spring_motion.h"

#include <algorithm>

namespace panup {

namespace {

constexpr std::size_t nodes_of_end = 4;

[[gnu::always_inline]] inline Eight& eight(std::array<double, lane_count>& values) {
  return *reinterpret_cast<Eight*>(values.data());
}

[[gnu::always_inline]] inline Four products(const SpringEnds& ends, const double* lifts) {
  return four(ends.upper_share.data()) * four(lifts + ends.upper) -
         four(ends.lower_share.data()) * four(lifts + ends.lower);
}

[[gnu::always_inline]] inline void press(const SpringEnds& ends, double more_n, double* next) {
  add_to(next + ends.lower, more_n * four(ends.lower_lift.data()));
  add_to(next + ends.upper, -more_n * four(ends.upper_lift.data()));
}

}  // namespace

double SpringEnds::response() const {
  double sum = 0;
  for (std::size_t i = 0; i < nodes_of_end; ++i) {
    sum += lower_share[i] * lower_lift[i] + upper_share[i] * upper_lift[i];
  }
  return sum;
}

void SpringMotion::add(const SpringEnds& ends, double at_m, double compliance_m_per_n,
                       double least_n, double slack_m) {
  added_.push_back({ends, at_m, compliance_m_per_n, least_n, slack_m, false});
}

void SpringMotion::begin() {
  struct Touched {
    std::size_t node = 0;
    Added* spring = nullptr;
  };
  std::vector<Touched> touched;
  for (Added& spring : added_) {
    touched.push_back({spring.ends.lower, &spring});
    if (spring.ends.upper > 0) {
      touched.push_back({spring.ends.upper, &spring});
    }
    touched_.resize(std::max(touched_.size(), spring.ends.lower + nodes_of_end));
    for (std::size_t i = 0; i < 2 * nodes_of_end - 1; ++i) {
      touched_[spring.ends.lower + i - (nodes_of_end - 1)] = 1;
    }
  }
  std::ranges::sort(touched, {}, &Touched::node);
  for (std::size_t i = 1; i < touched.size(); ++i) {
    if (touched[i].node < touched[i - 1].node + nodes_of_end) {
      touched[i].spring->shares = touched[i - 1].spring->shares = true;
    }
  }
  lists_[0].apart = true;
  for (const Added& spring : added_) {
    take(spring);
  }
  added_ = {};
}

void SpringMotion::take(const Added& spring) {
  const std::uint8_t number = spring.shares ? 1 : 0;
  List& list = lists_[number];
  const std::size_t index = list.at_m.size();
  const std::size_t lane = index % lane_count;
  if (lane == 0) {
    list.blocks.emplace_back();
  }
  Block& block = list.blocks.back();
  const double response = spring.ends.response();
  block.number[lane] = static_cast<double>(index);
  block.ends[lane] = spring.ends;
  block.response[lane] = response;
  block.stiffness[lane] = 1 / (spring.compliance_m_per_n + response / 4);
  block.least[lane] = spring.least_n;
  block.slack[lane] = spring.slack_m;
  list.at_m.push_back(spring.at_m);
  list.last = list.at_m.size();
  places_.push_back({number, index});
}

void SpringMotion::keep_to(double from_m, double to_m, const double* present) {
  for (List& list : lists_) {
    const auto first = std::ranges::lower_bound(list.at_m, from_m);
    const auto last = std::ranges::upper_bound(list.at_m, to_m);
    const std::size_t already = list.last;
    list.first = static_cast<std::size_t>(first - list.at_m.begin());
    list.last = static_cast<std::size_t>(std::max(first, last) - list.at_m.begin());
    for (std::size_t i = already; i < list.last; ++i) {
      Block& block = list.blocks[i / lane_count];
      block.next[i % lane_count] = elongation_in(block, i % lane_count, present);
    }
  }
}

void SpringMotion::look_again(double to_m, double from_m, const double* present,
                              const double* before) {
  for (List& list : lists_) {
    const auto look = [&](std::size_t i) {
      Block& block = list.blocks[i / lane_count];
      block.next[i % lane_count] = elongation_in(block, i % lane_count, present);
      block.now[i % lane_count] = elongation_in(block, i % lane_count, before);
    };
    std::size_t i = list.first;
    for (; i < list.last && list.at_m[i] < to_m; ++i) {
      look(i);
    }
    const auto beyond = std::ranges::upper_bound(list.at_m, from_m) - list.at_m.begin();
    for (i = std::max(i, static_cast<std::size_t>(beyond)); i < list.last; ++i) {
      look(i);
    }
  }
}

double SpringMotion::elongation_in(const Block& block, std::size_t lane, const double* lifts) {
  return sum(products(block.ends[lane], lifts));
}

void SpringMotion::settle(Block& block, std::size_t lane, double* next) {
  const double elongation = elongation_in(block, lane, next);
  const double mean = (elongation + block.response[lane] * block.force[lane] + 2 * block.now[lane] +
                       block.before[lane]) /
                      4;
  const double force =
      std::max(block.least[lane], block.stiffness[lane] * (mean - block.slack[lane]));
  const double more = force - block.force[lane];
  block.next[lane] = elongation - block.response[lane] * more;
  press(block.ends[lane], more, next);
  block.force[lane] = force;
}

void SpringMotion::step_one(List& list, std::size_t index, const double* present, double* next) {
  Block& block = list.blocks[index / lane_count];
  const std::size_t lane = index % lane_count;
  // The force of the last step is final only now.
  const double slack = block.force[lane] <= block.least[lane] ? 1 : 0;
  block.slack_steps[lane] += slack;
  block.times_slack[lane] += slack * (1 - block.is_slack[lane]);
  block.is_slack[lane] = slack;
  block.greatest[lane] = std::max(block.greatest[lane], block.force[lane] - block.least[lane]);
  block.before[lane] = block.now[lane];
  block.now[lane] = elongation_in(block, lane, present);
  block.force[lane] = 0;
  settle(block, lane, next);
}

PANUP_FOR_EACH_PROCESSOR
void SpringMotion::step_eights(Block* blocks, std::size_t first, std::size_t last, double* next) {
  const double from = static_cast<double>(first) - 0.5;
  const double to = static_cast<double>(last) - 0.5;
  for (std::size_t i = first / lane_count; i * lane_count < last; ++i) {
    Block& block = blocks[i];
    const auto& ends = block.ends;
    const Four front = sums(products(ends[0], next), products(ends[1], next),
                            products(ends[2], next), products(ends[3], next));
    const Four back = sums(products(ends[4], next), products(ends[5], next),
                           products(ends[6], next), products(ends[7], next));
    Lanes elongation;
    eight(elongation) = __builtin_shufflevector(front, back, 0, 1, 2, 3, 4, 5, 6, 7);
    Lanes more;
    for (std::size_t lane = 0; lane < lane_count; ++lane) {
      // Of the first and of the last eight not all may act. Those that do are stepped as
      // `step_one` does it.
      const bool acts = std::min(block.number[lane] - from, to - block.number[lane]) > 0;
      const double last_force = block.force[lane];
      const double least = block.least[lane];
      const double was_slack = block.is_slack[lane];
      const double slack = last_force <= least ? 1 : 0;
      block.slack_steps[lane] += acts ? slack : 0;
      block.times_slack[lane] += acts ? slack * (1 - was_slack) : 0;
      block.is_slack[lane] = acts ? slack : was_slack;
      block.greatest[lane] = std::max(block.greatest[lane], acts ? last_force - least : 0);

      const double before = block.now[lane];
      const double now = block.next[lane];
      const double mean = (elongation[lane] + 2 * now + before) / 4;
      const double force = std::max(least, block.stiffness[lane] * (mean - block.slack[lane]));
      const double next_one = elongation[lane] - block.response[lane] * force;
      block.before[lane] = before;  // at rest, where it does not act yet
      block.now[lane] = acts ? now : before;
      block.next[lane] = acts ? next_one : now;
      block.force[lane] = acts ? force : last_force;
      more[lane] = acts ? force : 0;
    }
    for (std::size_t lane = 0; lane < lane_count; ++lane) {
      press(ends[lane], more[lane], next);
    }
  }
}

void SpringMotion::step_list(List& list, double reached_m, const double* present, double* next) {
  const auto reached = std::ranges::upper_bound(list.at_m, reached_m);
  const std::size_t last =
      std::min(list.last, static_cast<std::size_t>(reached - list.at_m.begin()));
  if (list.first >= last) {
    return;
  }
  if (list.apart) {
    step_eights(list.blocks.data(), list.first, last, next);
    return;
  }
  for (std::size_t i = list.first; i < last; ++i) {
    step_one(list, i, present, next);
  }
}

void SpringMotion::step(double reached_m, const double* present, double* next) {
  for (List& list : lists_) {
    step_list(list, reached_m, present, next);
  }
}

bool SpringMotion::settle_beside(std::size_t node, double from_m, double to_m, double* next) {
  if (node >= touched_.size() || touched_[node] == 0) {
    return false;
  }
  bool any = false;
  for (List& list : lists_) {
    const auto first = std::ranges::lower_bound(list.at_m, from_m);
    for (auto i = static_cast<std::size_t>(first - list.at_m.begin());
         i < list.at_m.size() && list.at_m[i] < to_m; ++i) {
      Block& block = list.blocks[i / lane_count];
      const std::size_t lower = block.ends[i % lane_count].lower;
      if (lower < node + nodes_of_end && node < lower + nodes_of_end) {
        settle(block, i % lane_count, next);
        any = true;
      }
    }
  }
  return any;
}

SpringRecord SpringMotion::record(std::size_t index) const {
  const Block& block = block_of(index);
  const std::size_t lane = places_[index].index % lane_count;
  return {static_cast<long>(block.slack_steps[lane]), static_cast<int>(block.times_slack[lane]),
          block.greatest[lane]};
}

double SpringMotion::elongation(std::size_t index, const double* lifts) const {
  return elongation_in(block_of(index), places_[index].index % lane_count, lifts);
}

bool SpringMotion::acts(std::size_t index) const {
  const List& list = lists_[places_[index].list];
  return places_[index].index >= list.first && places_[index].index < list.last;
}

const SpringMotion::Block& SpringMotion::block_of(std::size_t index) const {
  const Place& place = places_[index];
  return lists_[place.list].blocks[place.index / lane_count];
}

}  // namespace panup
