#include "dynamics/line_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

namespace panup {

namespace {

constexpr int contact_index = 0;
constexpr int messenger_index = 1;
constexpr double endless = std::numeric_limits<double>::infinity();
/// Of the clamp that joins stitch wire and messenger wire: stiff beside every wire.
constexpr double clamp_stiffness_n_per_m = 1e7;
/// Springs that share no node are independent within a step.
constexpr double least_cells_between_droppers = 4;
/// A clamp, which is far stiffer, does not stay steady beside a dropper nearer than this.
constexpr double least_cells_from_clamp = 2;

GridWire grid_wire(const Wire& wire, double from_m, double length_m, double spacing_m,
                   double step_s) {
  GridWire grid;
  grid.first_m = from_m;
  grid.cells = std::max(4, static_cast<int>(std::floor(length_m / spacing_m)));
  grid.spacing_m = length_m / grid.cells;
  grid.node_mass_kg = wire.mass_kg_per_m * grid.spacing_m;
  grid.tension_n = wire.tension_n;
  grid.bending_stiffness_nm2 = wire.bending_stiffness_nm2;
  const double h2 = grid.spacing_m * grid.spacing_m;
  const double courant = wire.tension_n / wire.mass_kg_per_m * step_s * step_s / h2;
  grid.added_stiffness_nm2 = std::max(0.0, wire.tension_n * h2 * (1 - courant) / 12);
  return grid;
}

double compliance(const LineGrid& grid, const GridPoint& point) {
  const GridWire& wire = grid.wires[static_cast<std::size_t>(point.wire)];
  const bool on_end = wire.free_ends && (point.node <= 0 || point.node + 3 >= wire.cells) &&
                      std::ranges::max(point.share) == 1;
  return on_end ? 0 : missing_compliance(missing_lifts(wire), point.share);
}

void add_spring(LineGrid& grid, GridSpring spring, double stiffness) {
  double missing = compliance(grid, spring.lower);
  if (!spring.grounded) {
    missing += compliance(grid, spring.upper);
  }
  // A grid that bends gives more than its wire beside a node: the spring makes up for it as far as
  // it can, but below 0 it would push where it should pull, and the steps would not be stable.
  constexpr double least_share = 0.1;
  spring.compliance_m_per_n = std::max(1 / stiffness + missing, least_share / stiffness);
  grid.springs.push_back(spring);
}

class MassList {
 public:
  explicit MassList(const LineGrid& grid) : grid_(&grid) {}

  void add(const GridPoint& point, double mass_kg) {
    if (mass_kg > 0) {
      // Shared by the two nodes beside it: a mass below 0 is none.
      const GridWire& wire = grid_->wires[static_cast<std::size_t>(point.wire)];
      const double cells = place(point) - std::floor(place(point));
      const int node = std::min(static_cast<int>(std::floor(place(point))), wire.cells - 1);
      add(point.wire, node, mass_kg * (1 - cells));
      add(point.wire, node + 1, mass_kg * cells);
    }
  }

  std::vector<GridMass> by_chainage() const {
    std::vector<GridMass> masses;
    for (const auto& [place, mass] : masses_) {
      masses.push_back({place.first, place.second, mass});
    }
    std::ranges::stable_sort(masses, {}, [&](const GridMass& mass) {
      const GridWire& wire = grid_->wires[static_cast<std::size_t>(mass.wire)];
      return wire.first_m + mass.node * wire.spacing_m;
    });
    return masses;
  }

 private:
  /// In cells from the wire's first node.
  static double place(const GridPoint& point) {
    double sum = 0;
    for (std::size_t i = 0; i < point.share.size(); ++i) {
      sum += point.share[i] * (point.node + static_cast<double>(i));
    }
    return sum;
  }

  void add(int wire, int node, double mass_kg) {
    const bool held = !grid_->wires[static_cast<std::size_t>(wire)].free_ends &&
                      (node == 0 || node == grid_->wires[static_cast<std::size_t>(wire)].cells);
    if (mass_kg > 0 && !held) {
      masses_[{wire, node}] += mass_kg;
    }
  }

  const LineGrid* grid_;
  std::map<std::pair<int, int>, double> masses_;
};

/// Index of the stitch wire within which a place lies, or −1.
int stitch_wire_at(const LineGrid& grid, double at_m) {
  for (std::size_t wire = messenger_index + 1; wire < grid.wires.size(); ++wire) {
    const GridWire& stitch = grid.wires[wire];
    if (at_m > stitch.first_m && at_m < stitch.first_m + stitch.cells * stitch.spacing_m) {
      return static_cast<int>(wire);
    }
  }
  return -1;
}

/// Where a stitch wire is clamped too near to a place to be reckoned with it.
std::optional<double> clamp_beside(const LineGrid& grid, double at_m) {
  for (const GridSpring& spring : grid.springs) {
    if (spring.kind == SpringKind::clamp) {
      const double widest =
          std::max(grid.wires[static_cast<std::size_t>(spring.lower.wire)].spacing_m,
                   grid.wires[messenger_index].spacing_m);
      if (std::abs(spring.at_m - at_m) < least_cells_from_clamp * widest) {
        return spring.at_m;
      }
    }
  }
  return std::nullopt;
}

void add_stitch_wires(LineGrid& grid, const ContactLine& line, double step_s) {
  const std::vector<double> positions = support_positions(line);
  for (std::size_t i = 1; i + 1 < positions.size(); ++i) {
    const auto& stitch = line.supports[i].stitch_wire;
    if (!stitch) {
      continue;
    }
    GridWire wire =
        grid_wire(stitch->wire, positions[i] - stitch->length_m / 2, stitch->length_m,
                  stable_spacing(stitch->wire, line.stiffness_damping_s, step_s), step_s);
    wire.free_ends = true;
    grid.wires.push_back(wire);
    const int index = static_cast<int>(grid.wires.size()) - 1;
    for (const int end : {0, 1}) {
      const double at_m = positions[i] + (end == 0 ? -0.5 : 0.5) * stitch->length_m;
      const GridSpring clamp{.kind = SpringKind::clamp,
                             .at_m = at_m,
                             .lower = {index, end == 0 ? 0 : wire.cells, {1, 0, 0, 0}},
                             .upper = grid_point(grid, messenger_index, at_m),
                             .static_force_n = endless};
      add_spring(grid, clamp, clamp_stiffness_n_per_m);
    }
  }
}

}  // namespace

std::array<double, 4> missing_lifts(const GridWire& wire) {
  const double h = wire.spacing_m;
  const double t = wire.tension_n;
  std::array<double, 4> lifts{};
  for (std::size_t n = 0; n < lifts.size(); ++n) {
    lifts[n] = h * static_cast<double>(n) / (2 * t);
  }
  const double of_grid = wire.bending_stiffness_nm2 + wire.added_stiffness_nm2;
  if (of_grid > 0) {
    const double sum = 2 + t * h * h / of_grid;
    const double z = (sum - std::sqrt(sum * sum - 4)) / 2;
    for (std::size_t n = 0; n < lifts.size(); ++n) {
      lifts[n] += h / t * std::pow(z, n) / (1 / z - z) -
                  std::sqrt(wire.bending_stiffness_nm2 / t) / (2 * t);
    }
  }
  return lifts;
}

double missing_compliance(const std::array<double, 4>& lifts, const std::array<double, 4>& share) {
  const auto& s = share;
  return lifts[0] * (s[0] * s[0] + s[1] * s[1] + s[2] * s[2] + s[3] * s[3]) +
         2 * (lifts[1] * (s[0] * s[1] + s[1] * s[2] + s[2] * s[3]) +
              lifts[2] * (s[0] * s[2] + s[1] * s[3]) + lifts[3] * s[0] * s[3]);
}

GridPoint grid_point(const LineGrid& grid, int wire, double at_m) {
  const GridWire& on = grid.wires[static_cast<std::size_t>(wire)];
  const double cells = (at_m - on.first_m) / on.spacing_m;
  const int node = std::clamp(static_cast<int>(cells), 0, on.cells - 1);
  const double t = cells - node;
  if (node == 0 || node + 1 == on.cells) {
    return {wire, node, {1 - t, t, 0, 0}};
  }
  const double u = 1 - t;
  return {wire,
          node - 1,
          {-t * u * u / 2, 1 - 2.5 * t * t + 1.5 * t * t * t, 1 - 2.5 * u * u + 1.5 * u * u * u,
           -u * t * t / 2}};
}

double stable_spacing(const Wire& wire, double stiffness_damping_s, double step_s) {
  const double c2 = wire.tension_n / wire.mass_kg_per_m;
  const double bending = wire.bending_stiffness_nm2 / wire.tension_n;
  const double time = step_s * step_s + 2 * stiffness_damping_s * step_s;
  const auto share = [&](double h) {
    const double courant = c2 * step_s * step_s / (h * h);
    return time * c2 / (h * h) * (1 + 4 * bending / (h * h) + (1 - courant) / 3);
  };
  double least = std::sqrt(c2) * step_s;
  double most = least;
  while (share(most) > greatest_courant_squared) {
    most *= 2;
  }
  while (most - least > 1e-12 * most) {
    const double middle = (least + most) / 2;
    (share(middle) > greatest_courant_squared ? least : most) = middle;
  }
  return most;
}

bool is_stable(const LineGrid& grid, double step_s) {
  const double time = step_s * step_s + 2 * grid.stiffness_damping_s * step_s;
  return std::ranges::all_of(grid.wires, [&](const GridWire& wire) {
    const double h = wire.spacing_m;
    const double stretch = wire.tension_n / (wire.node_mass_kg * h);
    const double bend = 4 * (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) /
                        (wire.node_mass_kg * h * h * h);
    return time * (stretch + bend) <= greatest_courant_squared * (1 + 1e-9);
  });
}

std::variant<LineGrid, Sentence> make_grid(const ContactLine& line, const StaticState& state,
                                           double step_s, double contact_spacing_m) {
  LineGrid grid;
  grid.length_m = length_of(line);
  grid.mass_damping_per_s = line.mass_damping_per_s;
  grid.stiffness_damping_s = line.stiffness_damping_s;
  Wire contact_wire = combined_contact_wire(line);
  contact_wire.tension_n = state.contact_tension_n;
  Wire messenger_wire = line.messenger_wire;
  messenger_wire.tension_n = state.messenger_tension_n;
  const double beta = line.stiffness_damping_s;
  const double spacing =
      contact_spacing_m > 0 ? contact_spacing_m : stable_spacing(contact_wire, beta, step_s);
  grid.wires.push_back(grid_wire(contact_wire, 0, grid.length_m, spacing, step_s));
  grid.wires.push_back(grid_wire(messenger_wire, 0, grid.length_m,
                                 stable_spacing(messenger_wire, beta, step_s), step_s));
  add_stitch_wires(grid, line, step_s);

  MassList masses(grid);
  const std::vector<double> positions = support_positions(line);
  for (std::size_t i = 0; i < positions.size(); ++i) {
    const GridPoint below = grid_point(grid, contact_index, positions[i]);
    grid.supports.push_back(below);
    if (i == 0 || i + 1 == positions.size()) {
      continue;  // both wires are terminated there
    }
    const Support& support = line.supports[i];
    const GridPoint above = grid_point(grid, messenger_index, positions[i]);
    add_spring(grid,
               {.kind = SpringKind::support,
                .at_m = positions[i],
                .lower = above,
                .grounded = true,
                .static_force_n = endless},
               support.messenger_stiffness_n_per_m);
    if (support.steady_arm_stiffness_n_per_m > 0) {
      add_spring(grid,
                 {.kind = SpringKind::steady_arm,
                  .at_m = positions[i],
                  .lower = below,
                  .grounded = true,
                  .static_force_n = endless},
                 support.steady_arm_stiffness_n_per_m);
    }
    masses.add(below, support.steady_arm_mass_kg);
    masses.add(above, support.messenger_mass_kg);
  }

  double before_m = -endless;
  for (const StaticDropper& hung : state.droppers) {
    const double widest =
        std::max(grid.wires[contact_index].spacing_m, grid.wires[messenger_index].spacing_m);
    if (hung.at_m - before_m < least_cells_between_droppers * widest) {
      return to_say(
          "the droppers at {:.2f} m and {:.2f} m are less than four cells of the "
          "grid apart, which are {:.3f} m each; a shorter step makes it finer",
          before_m, hung.at_m, widest);
    }
    before_m = hung.at_m;
    if (const auto clamp_m = clamp_beside(grid, hung.at_m)) {
      return to_say(
          "the dropper at {:.2f} m is less than two cells of the grid from the end of a stitch "
          "wire "
          "at {:.2f} m; a shorter step makes the grid finer",
          hung.at_m, *clamp_m);
    }
    const int stitch = hung.on_stitch_wire ? stitch_wire_at(grid, hung.at_m) : -1;
    const GridPoint below = grid_point(grid, contact_index, hung.at_m);
    const GridPoint above = grid_point(grid, stitch < 0 ? messenger_index : stitch, hung.at_m);
    const std::vector<Dropper>& of_span = line.spans[static_cast<std::size_t>(hung.span)].droppers;
    const double from_m = positions[static_cast<std::size_t>(hung.span)];
    const auto dropper = std::ranges::min_element(
        of_span, {}, [&](const Dropper& one) { return std::abs(from_m + one.at_m - hung.at_m); });
    add_spring(grid,
               {.kind = SpringKind::dropper,
                .at_m = hung.at_m,
                .lower = below,
                .upper = above,
                .static_force_n = hung.force_n,
                .slack_m = hung.slack_m},
               dropper->stiffness_n_per_m);
    masses.add(below, dropper->mass_on_contact_wire_kg);
    masses.add(above, dropper->mass_on_messenger_kg);
  }
  std::ranges::stable_sort(grid.springs, {}, &GridSpring::at_m);
  grid.masses = masses.by_chainage();
  return grid;
}

}  // namespace panup
