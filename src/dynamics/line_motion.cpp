#include "dynamics/line_motion.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>

// One source for several processors; the program picks when it starts.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && !defined(PANUP_SANITIZED)
#define PANUP_FOR_EACH_PROCESSOR \
  __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define PANUP_FOR_EACH_PROCESSOR
#endif

// Rows of lifts are handed from function to function here, and all of these are inlined.
#pragma GCC diagnostic ignored "-Wpsabi"

namespace panup {

namespace {

/// Nodes beyond either end that the differences reach.
constexpr std::size_t pad = 2;
/// A row is a cache line. Wires begin with one.
constexpr int lifts_in_row = 8;
constexpr std::size_t row_size = lifts_in_row;
/// Cells of a wire between a cut and the nearest spring that acts: its four nodes must move.
constexpr double cells_clear_of_cut = 4;
/// Per second, of the speed of a wire just at a cut. Of a blow in the middle of 400 m less than a
/// fifth of the energy is left when waves have been there and back, more than three fifths with
/// hard cuts. A much harder stretch would throw waves back itself.
constexpr double hardest_softening_per_s = 20;

struct BeamStep {
  double own = 0;
  double old = 0;
  double middle = 0;  ///< of the stiffness row, times lift per newton
  double side = 0;
  double far = 0;
  double late = 0;  ///< β/Δt
};

/// Eight lifts in a row, as one value.
using Eight [[gnu::vector_size(64), gnu::may_alias]] = double;

/// Eight lifts of two neighbouring rows, `shift` to the right of the first.
template <int shift>
[[gnu::always_inline]] inline Eight shifted(const Eight& left, const Eight& right) {
  return __builtin_shufflevector(left, right, shift, shift + 1, shift + 2, shift + 3, shift + 4,
                                 shift + 5, shift + 6, shift + 7);
}

/// Steps the nodes of a wire, row by row: the middle of five neighbours. They are shifted out of
/// three rows: loads that straddle cache lines would take longer than all the arithmetic.
/// `bent(i)` is the row i that stiffness acts on. `next` and `before` may be one array.
template <class Bent>
[[gnu::always_inline]] inline void step_rows(double* next, const double* present,
                                             const double* before, long rows, BeamStep k,
                                             const Bent& bent) {
  auto* const out = reinterpret_cast<Eight*>(next);
  const auto* const now = reinterpret_cast<const Eight*>(present);
  const auto* const then = reinterpret_cast<const Eight*>(before);
  // Copies, lest the compiler think that writing lifts may change them.
  const double own = k.own;
  const double middle = k.middle;
  const double side = k.side;
  const double far_off = k.far;
  const double old = k.old;
  Eight left = bent(-1);
  Eight here = bent(0);
  for (long i = 0; i < rows; ++i) {
    const Eight right = bent(i + 1);
    const Eight sides = shifted<7>(left, here) + shifted<1>(here, right);
    const Eight far = shifted<6>(left, here) + shifted<2>(here, right);
    out[i] = own * now[i] + middle * here + side * sides + far_off * far - old * then[i];
    left = here;
    here = right;
  }
}

PANUP_FOR_EACH_PROCESSOR
void step_beam(double* next, const double* present, const double* before, long rows, BeamStep k) {
  const auto* const now = reinterpret_cast<const Eight*>(present);
  step_rows(
      next, present, before, rows,
      k, [=](long i) __attribute__((always_inline)) { return now[i]; });
}

/// With stiffness damping: `next` and `before` are two arrays.
PANUP_FOR_EACH_PROCESSOR
void step_damped_beam(double* next, const double* present, const double* before, long rows,
                      BeamStep k) {
  const auto* const now = reinterpret_cast<const Eight*>(present);
  const auto* const then = reinterpret_cast<const Eight*>(before);
  step_rows(
      next, present, before, rows, k, [ =, &k ](long i) __attribute__((always_inline)) {
        return now[i] + k.late * (now[i] - then[i]);
      });
}

/// Four lifts as one value. In memory they stand anywhere: they are copied out and in, for a
/// pointer to such a value promises the alignment of its type, and what the compiler makes of a
/// type of lesser alignment behind a reference differs between compilers. A copy is one load or
/// store.
using Four [[gnu::vector_size(32)]] = double;

[[gnu::always_inline]] inline Four four(const double* values) {
  Four lifts;
  std::memcpy(&lifts, values, sizeof lifts);
  return lifts;
}

[[gnu::always_inline]] inline void add_to(double* values, const Four& more) {
  const Four lifts = four(values) + more;
  std::memcpy(values, &lifts, sizeof lifts);
}

[[gnu::always_inline]] inline double sum(const Four& values) {
  return (values[0] + values[2]) + (values[1] + values[3]);
}

/// Σ term(j) for j from `first` to before `last`, in eight sums side by side: always in the same
/// order, and fit for wide registers.
template <class Term>
[[gnu::always_inline]] inline double sum_of(long first, long last, const Term& term) {
  constexpr long lanes = 8;
  std::array<double, lanes> sums{};
  long j = first;
  for (; j + lanes <= last; j += lanes) {
    for (long lane = 0; lane < lanes; ++lane) {
      sums[static_cast<std::size_t>(lane)] += term(j + lane);
    }
  }
  for (; j < last; ++j) {
    sums[0] += term(j);
  }
  return ((sums[0] + sums[1]) + (sums[2] + sums[3])) + ((sums[4] + sums[5]) + (sums[6] + sums[7]));
}

/// Σ (a − b)² over nodes.
PANUP_FOR_EACH_PROCESSOR
double moved_squares(const double* a, const double* b, long nodes) {
  return sum_of(0, nodes, [=](long j) { return (a[j] - b[j]) * (a[j] - b[j]); });
}

/// Of the differences of two shapes: what K makes of them, but for its factors.
struct Products {
  double slopes = 0;
  double bends = 0;
};

PANUP_FOR_EACH_PROCESSOR
Products products_of(const double* a, const double* b, long cells) {
  return {sum_of(0, cells, [=](long j) { return (a[j + 1] - a[j]) * (b[j + 1] - b[j]); }),
          sum_of(1, cells, [=](long j) {
            return (a[j - 1] - 2 * a[j] + a[j + 1]) * (b[j - 1] - 2 * b[j] + b[j + 1]);
          })};
}

/// Of a − c and b − c.
PANUP_FOR_EACH_PROCESSOR
Products moved_products(const double* a, const double* b, const double* c, long cells) {
  return {sum_of(0, cells,
                 [=](long j) {
                   return (a[j + 1] - c[j + 1] - a[j] + c[j]) * (b[j + 1] - c[j + 1] - b[j] + c[j]);
                 }),
          sum_of(1, cells, [=](long j) {
            const double bend = c[j - 1] - 2 * c[j] + c[j + 1];
            return (a[j - 1] - 2 * a[j] + a[j + 1] - bend) *
                   (b[j - 1] - 2 * b[j] + b[j + 1] - bend);
          })};
}

/// A free end's node has half the mass of others.
double half_at_free_ends(const GridWire& wire, const double* a, const double* b) {
  if (!wire.free_ends) {
    return 0;
  }
  const double first = a[0] - b[0];
  const double last = a[wire.cells] - b[wire.cells];
  return (first * first + last * last) / 2;
}

/// The bends of free ends, beyond which lifts mirror those before: ½ · 2Δa · 2Δb each. Lifts are
/// asked by node.
template <class LiftA, class LiftB>
double bends_at_free_ends(const GridWire& wire, const LiftA& a, const LiftB& b) {
  if (!wire.free_ends) {
    return 0;
  }
  const int end = wire.cells;
  return 2 * ((a(1) - a(0)) * (b(1) - b(0)) + (a(end - 1) - a(end)) * (b(end - 1) - b(end)));
}

template <class Spring>
[[gnu::always_inline]] inline double elongation_of(const Spring& spring, const double* lifts) {
  return sum(four(spring.upper_share.data()) * four(lifts + spring.upper) -
             four(spring.lower_share.data()) * four(lifts + spring.lower));
}

[[gnu::always_inline]] inline void settle(LineMotion::SpringStep& spring, double* next) {
  const double elongation = elongation_of(spring, next);
  const double mean =
      (elongation + spring.response * spring.force + 2 * spring.now + spring.before) / 4;
  const double force = std::max(spring.least, spring.stiffness * (mean - spring.slack));
  const double more = force - spring.force;
  add_to(next + spring.lower, more * four(spring.lower_lift.data()));
  add_to(next + spring.upper, -more * four(spring.upper_lift.data()));
  spring.force = force;
}

PANUP_FOR_EACH_PROCESSOR
void step_all(LineMotion::SpringStep* springs, long count, const double* present, double* next) {
  for (long i = 0; i < count; ++i) {
    LineMotion::SpringStep& spring = springs[i];
    LineMotion::SpringRecord& record = spring.record;
    // The force of the last step is final only now.
    const bool slack = spring.force <= spring.least;
    record.slack_steps += slack ? 1 : 0;
    record.times_slack += slack && !record.slack ? 1 : 0;
    record.slack = slack;
    record.greatest_force_n = std::max(record.greatest_force_n, spring.force - spring.least);
    spring.before = spring.now;
    spring.now = elongation_of(spring, present);
    spring.force = 0;
    settle(spring, next);
  }
}

double over_nodes(const GridWire& wire, int node) {
  return wire.free_ends && (node == 0 || node == wire.cells) ? 2 : 1;
}

}  // namespace

LineMotion::LineMotion(const LineGrid& grid, double step_s) : grid_(&grid), step_s_(step_s) {
  damped_ = grid.mass_damping_per_s > 0 || grid.stiffness_damping_s > 0;
  const double damping = grid.mass_damping_per_s * step_s / 2;
  std::size_t size = row_size;
  for (const GridWire& wire : grid.wires) {
    WireStep step;
    step.first = size;
    step.own = 2 / (1 + damping);
    step.old = (1 - damping) / (1 + damping);
    step.force = step_s * step_s / wire.node_mass_kg / (1 + damping);
    const double h = wire.spacing_m;
    step.stretch = wire.tension_n / h;
    step.bend = (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) / (h * h * h);
    step.soft.resize(static_cast<std::size_t>(soft_m / h) + 1);
    for (std::size_t i = 0; i < step.soft.size(); ++i) {
      const double share = 1 - static_cast<double>(i) / static_cast<double>(step.soft.size());
      step.soft[i] = std::min(1.0, hardest_softening_per_s * step_s * share * share);
    }
    nodes_.push_back({0, wire.cells});
    wires_.push_back(step);
    size += (static_cast<std::size_t>(wire.cells) + 1 + 2 * pad + 3 * row_size - 1) / row_size *
            row_size;
  }
  // Without damping nobody asks for the oldest lifts once the newest are there: two arrays do, and
  // the cache holds more of the line.
  lifts_.assign(size / row_size * (damped_ ? 3 : 2), {});
  present_ = lifts_.front().lifts.data();
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
  moving_springs_ = {0, springs_.size()};
  moving_masses_ = {0, masses_.size()};
}

LineMotion::Moving LineMotion::moving_of(const std::vector<double>& at_m, double from_m,
                                         double to_m) {
  const auto first = std::ranges::lower_bound(at_m, from_m);
  const auto last = std::ranges::upper_bound(at_m, to_m);
  return {static_cast<std::size_t>(first - at_m.begin()),
          static_cast<std::size_t>(std::max(first, last) - at_m.begin())};
}

void LineMotion::leave(std::size_t wire, int first) {
  for (int node = nodes_[wire].first; node < first; ++node) {
    const std::size_t at = wires_[wire].first + static_cast<std::size_t>(node);
    before_[at] = present_[at];
    next_[at] = present_[at];
  }
  nodes_[wire].first = std::max(nodes_[wire].first, first);
}

void LineMotion::keep_to(double from_m, double to_m) {
  from_m_ = std::max(from_m_, from_m);
  to_m_ = std::isinf(to_m_) ? to_m : std::max(to_m_, to_m);
  double clear_m = 0;
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    clear_m = std::max(clear_m, cells_clear_of_cut * wire.spacing_m);
    const auto cells = [&](double at_m) {
      return static_cast<int>(std::clamp((at_m - wire.first_m) / wire.spacing_m, -1.0,
                                         static_cast<double>(wire.cells) + row_size));
    };
    leave(w, std::min(std::max(cells(from_m_), 0) / lifts_in_row * lifts_in_row, wire.cells + 1));
    nodes_[w].last = std::min(cells(to_m_), wire.cells);
  }
  const double first_m = from_m_ > 0 ? from_m_ + clear_m : from_m_;
  const double last_m = to_m_ < grid_->length_m ? to_m_ - clear_m : to_m_;
  moving_springs_ = moving_of(spring_at_m_, first_m, last_m);
  moving_masses_ = moving_of(mass_at_m_, first_m, last_m);
}

double LineMotion::soften_wire(std::size_t index) {
  const WireStep& step = wires_[index];
  const MovingNodes& nodes = nodes_[index];
  const GridWire& wire = grid_->wires[index];
  const bool to_end = wire.first_m + (wire.cells + 1) * wire.spacing_m > grid_->length_m;
  const int soft = std::min(static_cast<int>(step.soft.size()), nodes.last - nodes.first + 1);
  double* const now = present_ + step.first;
  const double* const then = before_ + step.first;
  double squares = 0;
  const auto take = [&](int node, double share) {
    const double moved = now[node] - then[node];
    now[node] -= share * moved;
    squares += share * (2 - share) * moved * moved;
  };
  for (int i = 0; nodes.first > 0 && i < soft; ++i) {
    take(nodes.first + i, step.soft[static_cast<std::size_t>(i)]);
  }
  for (int i = 0; (nodes.last < wire.cells || to_end) && i < soft; ++i) {
    take(nodes.last - i, step.soft[static_cast<std::size_t>(i)]);
  }
  return wire.node_mass_kg * squares / (2 * step_s_ * step_s_);
}

double LineMotion::soften() {
  double taken_j = 0;
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    taken_j += soften_wire(w);
  }
  return taken_j;
}

std::size_t LineMotion::node_of(const GridPoint& point) const {
  return wires_[static_cast<std::size_t>(point.wire)].first + static_cast<std::size_t>(point.node);
}

double LineMotion::at(const double* lifts, const GridPoint& point) const {
  return sum(four(point.share.data()) * four(lifts + node_of(point)));
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
  if (last < 0) {
    return;
  }
  BeamStep k;
  k.own = step.own;
  k.old = step.old;
  k.middle = -step.force * (2 * step.stretch + 6 * step.bend);
  k.side = step.force * (step.stretch + 4 * step.bend);
  k.far = -step.force * step.bend;
  k.late = grid_->stiffness_damping_s / step_s_;
  const int first = nodes_[index].first;  // of a row
  if (std::min(last, end) < first) {
    return;
  }
  const int rows = (std::min(last, end) - first) / lifts_in_row + 1;
  if (k.late > 0) {
    step_damped_beam(next + first, now + first, then + first, rows, k);
  } else {
    step_beam(next + first, now + first, then + first, rows, k);
  }
  // What the last row holds beyond the wire is nothing, and held ends stay.
  std::fill(next + end + 1, next + std::max(end + 1, first + rows * lifts_in_row), 0.0);
  if (!wire.free_ends) {
    next[0] = 0;
    next[end] = 0;
  }
}

void LineMotion::step_masses(double reached_m) {
  const double own = wires_[0].own;
  const double old = wires_[0].old;
  for (std::size_t i = moving_masses_.first; i < moving_masses_.last && mass_at_m_[i] <= reached_m;
       ++i) {
    const MassStep& mass = masses_[i];
    const double coasting = own * present_[mass.node] - old * mass.before;
    next_[mass.node] = coasting + (next_[mass.node] - coasting) * mass.share;
  }
}

void LineMotion::step_springs(double reached_m) {
  const auto reached = std::ranges::upper_bound(spring_at_m_, reached_m);
  const std::size_t last =
      std::min(moving_springs_.last, static_cast<std::size_t>(reached - spring_at_m_.begin()));
  if (last > moving_springs_.first) {
    step_all(&springs_[moving_springs_.first], static_cast<long>(last - moving_springs_.first),
             present_, next_);
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
      settle(spring, next_);
      any = true;
    }
  }
  return any;
}

void LineMotion::advance(double reached_m) {
  for (std::size_t i = moving_masses_.first; i < moving_masses_.last; ++i) {
    masses_[i].before = before_[masses_[i].node];
  }
  reached_m = std::min(reached_m, to_m_);
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
    const int first = nodes_[w].first;
    const int cells = nodes_[w].last - first;
    if (cells <= 0) {
      continue;
    }
    const double* now = present_ + step.first;
    const double* then = before_ + step.first;
    double squares = moved_squares(now + first, then + first, cells + 1);
    Products products = products_of(now + first, then + first, cells);
    if (cells == wire.cells) {
      squares -= half_at_free_ends(wire, now, then);
      products.bends += bends_at_free_ends(
          wire, [=](int node) { return now[node]; }, [=](int node) { return then[node]; });
    }
    energy.kinetic_j += wire.node_mass_kg * squares / (2 * step_s_ * step_s_);
    energy.potential_j += (step.stretch * products.slopes + step.bend * products.bends) / 2;
  }
  for (std::size_t i = moving_masses_.first; i < moving_masses_.last; ++i) {
    const double speed = (present_[masses_[i].node] - before_[masses_[i].node]) / step_s_;
    energy.kinetic_j += grid_->masses[i].mass_kg * speed * speed / 2;
  }
  for (std::size_t i = moving_springs_.first; i < moving_springs_.last; ++i) {
    const GridSpring& spring = grid_->springs[i];
    const double elongation =
        (elongation_of(springs_[i], present_) + elongation_of(springs_[i], before_)) / 2 -
        spring.slack_m;
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
    const int first = nodes_[w].first;
    const int cells = nodes_[w].last - first;
    if (cells <= 0) {
      continue;
    }
    const bool whole = cells == wire.cells;
    const double* next = next_ + step.first;
    const double* now = present_ + step.first;
    const double* then = before_ + step.first;
    const double squares = moved_squares(next + first, then + first, cells + 1) -
                           (whole ? half_at_free_ends(wire, next, then) : 0);
    power += alpha * wire.node_mass_kg * squares / (4 * step_s_ * step_s_);
    if (beta > 0) {
      Products products = moved_products(next + first, now + first, then + first, cells);
      if (whole) {
        products.bends += bends_at_free_ends(
            wire, [=](int node) { return next[node] - then[node]; },
            [=](int node) { return now[node] - then[node]; });
      }
      power += beta * (step.stretch * products.slopes + step.bend * products.bends) /
               (2 * step_s_ * step_s_);
    }
  }
  for (std::size_t i = moving_masses_.first; i < moving_masses_.last; ++i) {
    const double speed = (next_[masses_[i].node] - before_[masses_[i].node]) / (2 * step_s_);
    power += alpha * grid_->masses[i].mass_kg * speed * speed;
  }
  return power * step_s_;
}

}  // namespace panup
