#include "dynamics/line_motion.h"

#include <algorithm>
#include <cmath>
#include <limits>

// One source for several processors; the program picks when it starts. Sums of products are never
// contracted (see CMakeLists.txt), so that all of them give the same bits.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && \
    !defined(__SANITIZE_ADDRESS__)
#define PANUP_FOR_EACH_PROCESSOR \
  __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define PANUP_FOR_EACH_PROCESSOR
#endif

namespace panup {

namespace {

/// Nodes beyond either end that the differences reach.
constexpr std::size_t pad = 2;
/// Rows begin at multiples of a cache line, in doubles.
constexpr std::size_t row = 8;

/// A wire without bending stiffness and stiffness damping. `next` and `before` may be one array.
PANUP_FOR_EACH_PROCESSOR
void step_string(double* next, const double* present, const double* before, long nodes, double own,
                 double side, double old) {
#pragma GCC ivdep
  for (long j = 0; j < nodes; ++j) {
    next[j] = own * present[j] + side * (present[j - 1] + present[j + 1]) - old * before[j];
  }
}

struct BeamStep {
  double own = 0;
  double old = 0;
  double middle = 0;  ///< of the stiffness row, times lift per newton
  double side = 0;
  double far = 0;
  double late = 0;  ///< β/Δt
};

/// A wire with bending stiffness. `next` and `before` may be one array.
PANUP_FOR_EACH_PROCESSOR
void step_beam(double* next, const double* present, const double* before, long nodes, BeamStep k) {
#pragma GCC ivdep
  for (long j = 0; j < nodes; ++j) {
    next[j] = k.own * present[j] - k.old * before[j] + k.middle * present[j] +
              k.side * (present[j - 1] + present[j + 1]) +
              k.far * (present[j - 2] + present[j + 2]);
  }
}

/// With stiffness damping: `next` and `before` are two arrays.
PANUP_FOR_EACH_PROCESSOR
void step_damped_beam(double* __restrict next, const double* __restrict present,
                      const double* __restrict before, long nodes, BeamStep k) {
  for (long j = 0; j < nodes; ++j) {
    const auto bent = [&](long i) { return present[i] + k.late * (present[i] - before[i]); };
    next[j] = k.own * present[j] - k.old * before[j] + k.middle * bent(j) +
              k.side * (bent(j - 1) + bent(j + 1)) + k.far * (bent(j - 2) + bent(j + 2));
  }
}

double interpolated(const double* lifts, const std::array<double, 4>& share) {
  return share[0] * lifts[0] + share[1] * lifts[1] + share[2] * lifts[2] + share[3] * lifts[3];
}

template <class Spring>
double elongation_of(const Spring& spring, const double* lifts) {
  return interpolated(lifts + spring.upper, spring.upper_share) -
         interpolated(lifts + spring.lower, spring.lower_share);
}

double over_nodes(const GridWire& wire, int node) {
  return wire.free_ends && (node == 0 || node == wire.cells) ? 2 : 1;
}

}  // namespace

LineMotion::LineMotion(const LineGrid& grid, double step_s) : grid_(&grid), step_s_(step_s) {
  damped_ = grid.mass_damping_per_s > 0 || grid.stiffness_damping_s > 0;
  const double damping = grid.mass_damping_per_s * step_s / 2;
  std::size_t size = row;
  for (const GridWire& wire : grid.wires) {
    WireStep step;
    step.first = size;
    step.own = 2 / (1 + damping);
    step.old = (1 - damping) / (1 + damping);
    step.force = step_s * step_s / wire.node_mass_kg / (1 + damping);
    const double h = wire.spacing_m;
    step.stretch = wire.tension_n / h;
    step.bend = (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) / (h * h * h);
    wires_.push_back(step);
    size += (static_cast<std::size_t>(wire.cells) + 1 + 2 * pad + 2 * row - 1) / row * row;
  }
  // Without damping nobody asks for the oldest lifts once the newest are there: two arrays do, and
  // the cache holds more of the line.
  lifts_.assign(size * (damped_ ? 3 : 2), 0);
  present_ = lifts_.data();
  before_ = present_ + size;
  next_ = damped_ ? before_ + size : before_;
  node_force_.assign(size, 0);
  for (std::size_t w = 0; w < grid.wires.size(); ++w) {
    const GridWire& wire = grid.wires[w];
    for (int node = 0; node <= wire.cells; ++node) {
      const bool held = !wire.free_ends && (node == 0 || node == wire.cells);
      node_force_[wires_[w].first + static_cast<std::size_t>(node)] =
          held ? 0 : wires_[w].force * over_nodes(wire, node);
    }
  }
  for (const GridMass& mass : grid.masses) {
    const GridWire& wire = grid.wires[static_cast<std::size_t>(mass.wire)];
    const std::size_t node =
        wires_[static_cast<std::size_t>(mass.wire)].first + static_cast<std::size_t>(mass.node);
    const double own = wire.node_mass_kg / over_nodes(wire, mass.node);
    const double share = own / (own + mass.mass_kg);
    masses_.push_back({node, share, 0});
    mass_at_m_.push_back(wire.first_m + mass.node * wire.spacing_m);
    node_force_[node] *= share;
  }
  for (const GridSpring& spring : grid.springs) {
    SpringStep step;
    const auto connect = [&](const GridPoint& point, std::size_t& node,
                             std::array<double, 4>& share, std::array<double, 4>& lift) {
      node = node_of(point);
      share = point.share;
      double response = 0;
      for (std::size_t k = 0; k < share.size(); ++k) {
        lift[k] = share[k] * node_force_[node + k];
        response += share[k] * lift[k];
      }
      return response;
    };
    double response = connect(spring.lower, step.lower, step.lower_share, step.lower_lift);
    if (spring.grounded) {
      step.upper = 0;  // a node in front of all wires, that is never moved
    } else {
      response += connect(spring.upper, step.upper, step.upper_share, step.upper_lift);
    }
    step.response = response;
    step.stiffness = 1 / (spring.compliance_m_per_n + response / 4);
    step.least = -spring.static_force_n;
    step.slack = spring.slack_m;
    springs_.push_back(step);
    spring_at_m_.push_back(spring.at_m);
  }
  records_.resize(springs_.size());
}

std::size_t LineMotion::node_of(const GridPoint& point) const {
  return wires_[static_cast<std::size_t>(point.wire)].first + static_cast<std::size_t>(point.node);
}

double LineMotion::at(const double* lifts, const GridPoint& point) const {
  return interpolated(lifts + node_of(point), point.share);
}

std::span<const double> LineMotion::present(int wire) const {
  const auto index = static_cast<std::size_t>(wire);
  return {present_ + wires_[index].first, static_cast<std::size_t>(grid_->wires[index].cells) + 1};
}

double LineMotion::response(const GridPoint& pressed, const GridPoint& felt) const {
  double sum = 0;
  const std::size_t first = node_of(pressed);
  for (int i = 0; i < 4; ++i) {
    const int j = pressed.node + i - felt.node;
    if (j >= 0 && j < 4) {
      sum += pressed.share[static_cast<std::size_t>(i)] * felt.share[static_cast<std::size_t>(j)] *
             node_force_[first + static_cast<std::size_t>(i)];
    }
  }
  return sum;
}

void LineMotion::press(const PointForce& force) {
  const std::size_t node = node_of(force.at);
  for (std::size_t i = 0; i < force.at.share.size(); ++i) {
    next_[node + i] += force.force_n * force.at.share[i] * node_force_[node + i];
  }
}

void LineMotion::accept() {
  if (next_ == before_) {
    std::swap(present_, before_);
    next_ = before_;
  } else {
    double* const oldest = before_;
    before_ = present_;
    present_ = next_;
    next_ = oldest;
  }
}

void LineMotion::step_wire(std::size_t index, int last) {
  const GridWire& wire = grid_->wires[index];
  const WireStep& step = wires_[index];
  double* now = present_ + step.first;
  double* then = before_ + step.first;
  double* next = next_ + step.first;
  const int end = wire.cells;
  if (wire.free_ends) {
    for (double* lifts : {now, then}) {
      lifts[-1] = lifts[1];
      lifts[end + 1] = lifts[end - 1];
      lifts[-2] = lifts[2];
      lifts[end + 2] = lifts[end - 2];
    }
  } else {
    for (double* lifts : {now, then}) {
      lifts[-1] = -lifts[1];
      lifts[end + 1] = -lifts[end - 1];
    }
  }
  const int from = wire.free_ends ? 0 : 1;
  const int to = std::min(last, wire.free_ends ? end : end - 1);
  if (to < from) {
    return;
  }
  const long nodes = to - from + 1;
  if (step.bend == 0 && grid_->stiffness_damping_s == 0) {
    const double side = step.force * step.stretch;
    step_string(next + from, now + from, then + from, nodes, step.own - 2 * side, side, step.old);
    return;
  }
  BeamStep k;
  k.own = step.own;
  k.old = step.old;
  k.middle = -step.force * (2 * step.stretch + 6 * step.bend);
  k.side = step.force * (step.stretch + 4 * step.bend);
  k.far = -step.force * step.bend;
  k.late = grid_->stiffness_damping_s / step_s_;
  if (k.late > 0) {
    step_damped_beam(next + from, now + from, then + from, nodes, k);
    return;
  }
  step_beam(next + from, now + from, then + from, nodes, k);
}

void LineMotion::step_masses(double reached_m) {
  const double own = wires_[0].own;
  const double old = wires_[0].old;
  for (std::size_t i = 0; i < masses_.size() && mass_at_m_[i] <= reached_m; ++i) {
    const MassStep& mass = masses_[i];
    const double coasting = own * present_[mass.node] - old * mass.before;
    next_[mass.node] = coasting + (next_[mass.node] - coasting) * mass.share;
  }
}

void LineMotion::settle(SpringStep& spring) {
  const double elongation = elongation_of(spring, next_);
  const double mean =
      (elongation + spring.response * spring.force + 2 * spring.now + spring.before) / 4;
  const double force = std::max(spring.least, spring.stiffness * (mean - spring.slack));
  const double more = force - spring.force;
  for (std::size_t k = 0; k < 4; ++k) {
    next_[spring.lower + k] += more * spring.lower_lift[k];
    next_[spring.upper + k] -= more * spring.upper_lift[k];
  }
  spring.force = force;
}

void LineMotion::step_springs(double reached_m) {
  for (std::size_t i = 0; i < springs_.size() && spring_at_m_[i] <= reached_m; ++i) {
    SpringStep& spring = springs_[i];
    SpringRecord& record = records_[i];
    // The force of the last step is final only now.
    const bool slack = spring.force <= spring.least;
    record.slack_steps += slack ? 1 : 0;
    record.times_slack += slack && !record.slack ? 1 : 0;
    record.slack = slack;
    record.greatest_force_n = std::max(record.greatest_force_n, spring.force - spring.least);
    spring.before = spring.now;
    spring.now = elongation_of(spring, present_);
    spring.force = 0;
    settle(spring);
  }
}

bool LineMotion::settle_beside(const GridPoint& point) {
  bool any = false;
  const std::size_t node = node_of(point);
  const double h = grid_->wires[0].spacing_m;
  auto at = std::ranges::lower_bound(spring_at_m_, (point.node - 4) * h);
  for (; at != spring_at_m_.end() && *at < (point.node + 8) * h; ++at) {
    SpringStep& spring = springs_[static_cast<std::size_t>(at - spring_at_m_.begin())];
    if (spring.lower < node + 4 && node < spring.lower + 4) {
      settle(spring);
      any = true;
    }
  }
  return any;
}

void LineMotion::advance(double reached_m) {
  for (MassStep& mass : masses_) {
    mass.before = before_[mass.node];
  }
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    const double cells = std::ceil((reached_m - wire.first_m) / wire.spacing_m);
    step_wire(w, static_cast<int>(std::clamp(cells, -1.0, static_cast<double>(wire.cells))));
  }
  step_masses(reached_m);
  step_springs(reached_m);
}

LineEnergy LineMotion::energy() const {
  LineEnergy energy;
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    const WireStep& step = wires_[w];
    const double* now = present_ + step.first;
    const double* then = before_ + step.first;
    double squares = 0;
    double stretch = 0;
    double bend = 0;
    for (int j = 0; j <= wire.cells; ++j) {
      const double moved = now[j] - then[j];
      squares += moved * moved / over_nodes(wire, j);
    }
    for (int j = 0; j < wire.cells; ++j) {
      stretch += (now[j + 1] - now[j]) * (then[j + 1] - then[j]);
    }
    if (step.bend > 0) {
      for (int j = 1; j < wire.cells; ++j) {
        bend += (now[j - 1] - 2 * now[j] + now[j + 1]) * (then[j - 1] - 2 * then[j] + then[j + 1]);
      }
    }
    energy.kinetic_j += wire.node_mass_kg * squares / (2 * step_s_ * step_s_);
    energy.potential_j += (step.stretch * stretch + step.bend * bend) / 2;
  }
  for (std::size_t i = 0; i < masses_.size(); ++i) {
    const double speed = (present_[masses_[i].node] - before_[masses_[i].node]) / step_s_;
    energy.kinetic_j += grid_->masses[i].mass_kg * speed * speed / 2;
  }
  for (std::size_t i = 0; i < springs_.size(); ++i) {
    const GridSpring& spring = grid_->springs[i];
    const auto half_step = [&](const GridPoint& point) {
      return (at(present_, point) + at(before_, point)) / 2;
    };
    double elongation = (spring.grounded ? 0 : half_step(spring.upper)) - half_step(spring.lower);
    elongation -= spring.slack_m;
    // The static force does work too; with it, the wires' own static forces cancel.
    const double limit = -spring.static_force_n * spring.compliance_m_per_n;
    if (elongation >= limit) {
      energy.potential_j += elongation * elongation / (2 * spring.compliance_m_per_n);
    } else {
      energy.potential_j += -spring.static_force_n * (elongation - limit / 2);
    }
  }
  return energy;
}

double LineMotion::dissipation() const {
  if (!damped_) {
    return 0;
  }
  double power = 0;
  const double alpha = grid_->mass_damping_per_s;
  const double beta = grid_->stiffness_damping_s;
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    const WireStep& step = wires_[w];
    const double* next = next_ + step.first;
    const double* now = present_ + step.first;
    const double* then = before_ + step.first;
    double squares = 0;
    for (int j = 0; j <= wire.cells; ++j) {
      const double moved = next[j] - then[j];
      squares += moved * moved / over_nodes(wire, j);
    }
    power += alpha * wire.node_mass_kg * squares / (4 * step_s_ * step_s_);
    if (beta > 0) {
      double stretch = 0;
      double bend = 0;
      for (int j = 0; j < wire.cells; ++j) {
        stretch += (next[j + 1] - then[j + 1] - next[j] + then[j]) *
                   (now[j + 1] - then[j + 1] - now[j] + then[j]);
      }
      for (int j = 1; j < wire.cells && step.bend > 0; ++j) {
        const auto curve = [j](const double* lifts) {
          return lifts[j - 1] - 2 * lifts[j] + lifts[j + 1];
        };
        bend += (curve(next) - curve(then)) * (curve(now) - curve(then));
      }
      power += beta * (step.stretch * stretch + step.bend * bend) / (2 * step_s_ * step_s_);
    }
  }
  for (std::size_t i = 0; i < masses_.size(); ++i) {
    const double speed = (next_[masses_[i].node] - before_[masses_[i].node]) / (2 * step_s_);
    power += alpha * grid_->masses[i].mass_kg * speed * speed;
  }
  return power * step_s_;
}

}  // namespace panup
