#include "dynamics/line_motion.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstring>
#include <limits>

namespace panup {

namespace {

/// Nodes beyond either end that the differences reach.
constexpr std::size_t pad = 2;
/// A row is a cache line. Wires begin with one.
constexpr std::size_t row_size = lane_count;
constexpr int lifts_in_row = row_size;
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

/// Steps the nodes of a wire, row by row: the middle of five neighbours. They are shifted out of
/// three rows: loads that straddle cache lines would take longer than all the arithmetic.
/// `bent(i)` is the row i that stiffness acts on. Where nodes carry extra masses, `shares` is what
/// is left of its action on each. Without damping what is bent is what lies there now. `next` and
/// `before` may be one array.
template <bool damped, bool with_masses, class Bent>
[[gnu::always_inline]] inline void step_rows(double* next, const double* present,
                                             const double* before, const double* shares, long rows,
                                             BeamStep k, const Bent& bent) {
  const auto* const share = reinterpret_cast<const Eight*>(shares);
  auto* const out = reinterpret_cast<Eight*>(next);
  const auto* const now = reinterpret_cast<const Eight*>(present);
  const auto* const then = reinterpret_cast<const Eight*>(before);
  // Copies, lest the compiler think that writing lifts may change them.
  const double own = k.own;
  const double middle = k.middle;
  const double both = own + middle;
  const double side = k.side;
  const double far_off = k.far;
  const double old = k.old;
  Eight left = bent(-1);
  Eight here = bent(0);
  for (long i = 0; i < rows; ++i) {
    const Eight right = bent(i + 1);
    const Eight sides = shifted<7>(left, here) + shifted<1>(here, right);
    const Eight far = shifted<6>(left, here) + shifted<2>(here, right);
    if constexpr (with_masses) {
      out[i] =
          own * now[i] - old * then[i] + share[i] * (middle * here + side * sides + far_off * far);
    } else {
      const Eight alone = damped ? own * now[i] + middle * here : both * here;
      out[i] = alone + side * sides + far_off * far - old * then[i];
    }
    left = here;
    here = right;
  }
}

PANUP_FOR_EACH_PROCESSOR
void step_beam(double* next, const double* present, const double* before, const double* shares,
               long rows, BeamStep k) {
  const auto* const now = reinterpret_cast<const Eight*>(present);
  const auto bent = [=](long i) __attribute__((always_inline)) { return now[i]; };
  if (shares != nullptr) {
    step_rows<false, true>(next, present, before, shares, rows, k, bent);
  } else {
    step_rows<false, false>(next, present, before, shares, rows, k, bent);
  }
}

/// With stiffness damping.
PANUP_FOR_EACH_PROCESSOR
void step_damped_beam(double* next, const double* present, const double* before,
                      const double* shares, long rows, BeamStep k) {
  const auto* const now = reinterpret_cast<const Eight*>(present);
  const auto* const then = reinterpret_cast<const Eight*>(before);
  const auto bent = [ =, late = k.late ](long i) __attribute__((always_inline)) {
    return now[i] + late * (now[i] - then[i]);
  };
  if (shares != nullptr) {
    step_rows<true, true>(next, present, before, shares, rows, k, bent);
  } else {
    step_rows<true, false>(next, present, before, shares, rows, k, bent);
  }
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

/// The energy of their shape that nodes win when of each one's speed its share is taken. The scheme
/// holds ½ uᵀ K u₋ of two states w apart for it, which is that of their mean less wᵀ K w/8.
PANUP_FOR_EACH_PROCESSOR
double shape_won(const double* now, const double* then, const double* shares, long nodes,
                 double stretch, double bend) {
  assert(nodes >= 2);
  const auto moved = [=](long j) { return now[j] - then[j]; };
  const auto left = [=](long j) { return (1 - shares[j]) * (now[j] - then[j]); };
  const auto lost = [](double before, double after) { return before * before - after * after; };
  const auto of_link = [=](long j) {
    return stretch * lost(moved(j + 1) - moved(j), left(j + 1) - left(j));
  };
  return (of_link(0) + sum_of(1, nodes - 1,
                              [=](long j) {
                                return of_link(j) +
                                       bend * lost(moved(j - 1) - 2 * moved(j) + moved(j + 1),
                                                   left(j - 1) - 2 * left(j) + left(j + 1));
                              })) /
         8;
}

/// Takes of each node's speed its share, half of it off the present and half off the state before:
/// so the line keeps its shape, and of no wave, however short, the energy grows. Gives what the
/// squares of the speeds lose.
PANUP_FOR_EACH_PROCESSOR
double soften_nodes(double* __restrict now, double* __restrict then,
                    const double* __restrict shares, long nodes) {
  return sum_of(0, nodes, [=](long j) {
    const double moved = now[j] - then[j];
    const double half = shares[j] * moved / 2;
    now[j] -= half;
    then[j] += half;
    return shares[j] * (2 - shares[j]) * moved * moved;
  });
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

/// What damping takes from a wire by: of `next` − `then` the squares, of that and `now` − `then`
/// the products.
struct Moved {
  double squares = 0;
  Products products;
};

/// Nodes 0 to `cells` of three states that begin with a row. Row by row, as the wire is stepped.
PANUP_FOR_EACH_PROCESSOR
Moved moved_between(const double* next, const double* now, const double* then, long cells) {
  const auto whole = [=](long j) { return next[j] - then[j]; };
  const auto half = [=](long j) { return now[j] - then[j]; };
  const auto bend = [](const auto& of, long j) { return of(j - 1) - 2 * of(j) + of(j + 1); };
  Moved moved;
  const auto add_singly = [&](long from, long to) {
    for (long j = from; j <= to; ++j) {
      moved.squares += whole(j) * whole(j);
      if (j < cells) {
        moved.products.slopes += (whole(j + 1) - whole(j)) * (half(j + 1) - half(j));
      }
      if (j > 0 && j < cells) {
        moved.products.bends += bend(whole, j) * bend(half, j);
      }
    }
  };
  const long rows = cells / lifts_in_row;  // that lie before the last node, whole
  if (rows < 2) {
    add_singly(0, cells);
    return moved;
  }
  add_singly(0, lifts_in_row - 1);
  const auto* const a = reinterpret_cast<const Eight*>(next);
  const auto* const b = reinterpret_cast<const Eight*>(now);
  const auto* const c = reinterpret_cast<const Eight*>(then);
  Eight squares{};
  Eight slopes{};
  Eight bends{};
  Eight whole_left = a[0] - c[0];
  Eight half_left = b[0] - c[0];
  Eight whole_here = a[1] - c[1];
  Eight half_here = b[1] - c[1];
  for (long i = 1; i < rows; ++i) {
    const Eight whole_right = a[i + 1] - c[i + 1];
    const Eight half_right = b[i + 1] - c[i + 1];
    const Eight whole_slope = shifted<1>(whole_here, whole_right) - whole_here;
    const Eight half_slope = shifted<1>(half_here, half_right) - half_here;
    squares += whole_here * whole_here;
    slopes += whole_slope * half_slope;
    bends += (whole_slope - whole_here + shifted<7>(whole_left, whole_here)) *
             (half_slope - half_here + shifted<7>(half_left, half_here));
    whole_left = whole_here;
    half_left = half_here;
    whole_here = whole_right;
    half_here = half_right;
  }
  moved.squares += sum(squares);
  moved.products.slopes += sum(slopes);
  moved.products.bends += sum(bends);
  add_singly(rows * lifts_in_row, cells);
  return moved;
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
      step.soft[i] = std::min(1.0, hardest_softening_per_s * steps_between_softenings * step_s) *
                     share * share;
    }
    step.soft_to_end.assign(step.soft.rbegin(), step.soft.rend());
    nodes_.push_back({0, wire.cells});
    wires_.push_back(step);
    size += (static_cast<std::size_t>(wire.cells) + 1 + 2 * pad + 3 * row_size - 1) / row_size *
            row_size;
  }
  // A third state is kept only where damping is looked at: two arrays do for the steps, and the
  // cache holds more of the line.
  lifts_.assign(size / row_size * (damped_ ? 3 : 2), {});
  present_ = lifts_.front().lifts.data();
  before_ = present_ + size;
  next_ = before_;
  spare_ = damped_ ? before_ + size : nullptr;
  node_force_.assign(size, 0);
  for (std::size_t w = 0; w < grid.wires.size(); ++w) {
    const GridWire& wire = grid.wires[w];
    for (int node = 0; node <= wire.cells; ++node) {
      const bool held = !wire.free_ends && (node == 0 || node == wire.cells);
      node_force_[wires_[w].first + static_cast<std::size_t>(node)] =
          held ? 0 : wires_[w].force * over_nodes(wire, node);
    }
  }
  if (!grid.masses.empty()) {
    mass_shares_.resize(size / row_size);
    for (LiftRow& row : mass_shares_) {
      row.lifts.fill(1);
    }
  }
  for (const GridMass& mass : grid.masses) {
    const GridWire& wire = grid.wires[static_cast<std::size_t>(mass.wire)];
    const std::size_t node =
        wires_[static_cast<std::size_t>(mass.wire)].first + static_cast<std::size_t>(mass.node);
    const double own = wire.node_mass_kg / over_nodes(wire, mass.node);
    const double share = own / (own + mass.mass_kg);
    mass_nodes_.push_back(node);
    mass_shares_[node / row_size].lifts[node % row_size] = share;
    wires_[static_cast<std::size_t>(mass.wire)].has_masses = true;
    mass_at_m_.push_back(wire.first_m + mass.node * wire.spacing_m);
    node_force_[node] *= share;
  }
  for (const GridSpring& spring : grid.springs) {
    SpringEnds ends;
    const auto connect = [&](const GridPoint& point, std::size_t& node,
                             std::array<double, 4>& share, std::array<double, 4>& lift) {
      node = node_of(point);
      share = point.share;
      for (std::size_t k = 0; k < share.size(); ++k) {
        lift[k] = share[k] * node_force_[node + k];
      }
    };
    connect(spring.lower, ends.lower, ends.lower_share, ends.lower_lift);
    if (!spring.grounded) {
      connect(spring.upper, ends.upper, ends.upper_share, ends.upper_lift);
    }
    springs_.add(ends, spring.at_m, spring.compliance_m_per_n, -spring.static_force_n,
                 spring.slack_m);
  }
  springs_.begin();
  moving_masses_ = {0, mass_nodes_.size()};
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
    if (spare_ != nullptr) {
      spare_[at] = present_[at];
    }
  }
  nodes_[wire].first = std::max(nodes_[wire].first, first);
}

void LineMotion::keep_to(double from_m, double to_m) {
  from_m_ = std::max(from_m_, from_m);
  to_m_ = std::isinf(to_m_) ? to_m : std::max(to_m_, to_m);
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    clear_m_ = std::max(clear_m_, cells_clear_of_cut * wire.spacing_m);
    const auto cells = [&](double at_m) {
      return static_cast<int>(std::clamp((at_m - wire.first_m) / wire.spacing_m, -1.0,
                                         static_cast<double>(wire.cells) + row_size));
    };
    leave(w, std::min(std::max(cells(from_m_), 0) / lifts_in_row * lifts_in_row, wire.cells + 1));
    nodes_[w].last = std::min(cells(to_m_), wire.cells);
  }
  const double first_m = from_m_ > 0 ? from_m_ + clear_m_ : from_m_;
  const double last_m = to_m_ < grid_->length_m ? to_m_ - clear_m_ : to_m_;
  springs_.keep_to(first_m, last_m, present_);
  moving_masses_ = moving_of(mass_at_m_, first_m, last_m);
}

double LineMotion::soften_wire(std::size_t index) {
  const WireStep& step = wires_[index];
  const MovingNodes& nodes = nodes_[index];
  const GridWire& wire = grid_->wires[index];
  const bool to_end = wire.first_m + (wire.cells + 1) * wire.spacing_m > grid_->length_m;
  const auto length = static_cast<int>(step.soft.size());
  const int soft = std::min(length, nodes.last - nodes.first + 1);
  if (soft < 2) {
    return 0;
  }
  double* const now = present_ + step.first;
  double* const then = before_ + step.first;
  const auto taken_from = [&](int first, const double* shares) {
    const double won_j =
        shape_won(now + first, then + first, shares, soft, step.stretch, step.bend);
    const double squares = soften_nodes(now + first, then + first, shares, soft);
    return wire.node_mass_kg * squares / (2 * step_s_ * step_s_) - won_j;
  };
  double taken_j = 0;
  if (nodes.first > 0) {
    taken_j += taken_from(nodes.first, step.soft.data());
  }
  if (nodes.last < wire.cells || to_end) {
    taken_j += taken_from(nodes.last + 1 - soft, step.soft_to_end.data() + (length - soft));
  }
  return taken_j;
}

double LineMotion::soften() {
  double taken_j = 0;
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    taken_j += soften_wire(w);
  }
  springs_.look_again(from_m_ + soft_m + clear_m_,
                      std::min(to_m_, grid_->length_m) - soft_m - clear_m_, present_, before_);
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
  if (next_ == spare_) {
    std::swap(before_, spare_);
  }
  std::swap(present_, before_);
  next_ = before_;
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
  const double* const shares =
      step.has_masses ? mass_shares_.front().lifts.data() + step.first + first : nullptr;
  if (k.late > 0) {
    step_damped_beam(next + first, now + first, then + first, shares, rows, k);
  } else {
    step_beam(next + first, now + first, then + first, shares, rows, k);
  }
  // What the last row holds beyond the wire is nothing, and held ends stay.
  std::fill(next + end + 1, next + std::max(end + 1, first + rows * lifts_in_row), 0.0);
  if (!wire.free_ends) {
    next[0] = 0;
    next[end] = 0;
  }
}

bool LineMotion::settle_beside(const GridPoint& point) {
  const double h = grid_->wires[0].spacing_m;
  return springs_.settle_beside(node_of(point), (point.node - 4) * h, (point.node + 8) * h, next_);
}

void LineMotion::advance(double reached_m, bool with_dissipation) {
  if (with_dissipation && damped_) {
    next_ = spare_;
  }
  reached_m = std::min(reached_m, to_m_);
  for (std::size_t w = 0; w < wires_.size(); ++w) {
    const GridWire& wire = grid_->wires[w];
    const double cells = std::ceil((reached_m - wire.first_m) / wire.spacing_m);
    step_wire(w, static_cast<int>(std::clamp(cells, -1.0, static_cast<double>(wire.cells))));
  }
  springs_.step(reached_m, present_, next_);
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
    const double speed = (present_[mass_nodes_[i]] - before_[mass_nodes_[i]]) / step_s_;
    energy.kinetic_j += grid_->masses[i].mass_kg * speed * speed / 2;
  }
  for (std::size_t i = 0; i < springs_.size(); ++i) {
    if (!springs_.acts(i)) {
      continue;
    }
    const GridSpring& spring = grid_->springs[i];
    const double elongation =
        (springs_.elongation(i, present_) + springs_.elongation(i, before_)) / 2 - spring.slack_m;
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
  assert(next_ == spare_);
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
    Moved moved;
    if (beta > 0) {
      moved = moved_between(next + first, now + first, then + first, cells);
    } else {
      moved.squares = moved_squares(next + first, then + first, cells + 1);
    }
    if (whole) {
      moved.squares -= half_at_free_ends(wire, next, then);
      moved.products.bends += bends_at_free_ends(
          wire, [=](int node) { return next[node] - then[node]; },
          [=](int node) { return now[node] - then[node]; });
    }
    power +=
        (alpha * wire.node_mass_kg * moved.squares / 4 +
         beta * (step.stretch * moved.products.slopes + step.bend * moved.products.bends) / 2) /
        (step_s_ * step_s_);
  }
  for (std::size_t i = moving_masses_.first; i < moving_masses_.last; ++i) {
    const double speed = (next_[mass_nodes_[i]] - before_[mass_nodes_[i]]) / (2 * step_s_);
    power += alpha * grid_->masses[i].mass_kg * speed * speed;
  }
  return power * step_s_;
}

}  // namespace panup
