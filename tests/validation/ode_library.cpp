/// A small line with droppers that slacken and contact that is lost, against a general-purpose ODE
/// library.
/// Source: CVODE of SUNDIALS, Adams method, relative tolerance 1e-8, on the same equations in
/// space, written here anew.

#include <cvode/cvode.h>
#include <fmt/format.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_config.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include <cmath>
#include <memory>

#include "agreement.h"
#include "dynamics/contact_point.h"
#include "dynamics/prepared_line.h"
#include "dynamics/run_course.h"
#include "reference.h"

namespace panup::validation {
namespace {

constexpr double start_m = 40;
constexpr double ramp_m = 30;
constexpr double speed_ms = 45;
constexpr double frame_n = 260;
constexpr double length_s = 2.2;
constexpr double sample_s = 0.004;

ContactLine small_line() {
  ContactLine line;
  line.contact_wire.tension_n = 10000;
  line.contact_wire.mass_kg_per_m = 0.9;
  line.contact_wire.bending_stiffness_nm2 = 100;
  line.messenger_wire.tension_n = 10000;
  line.messenger_wire.mass_kg_per_m = 0.6;
  line.mass_damping_per_s = 0.02;
  Span span;
  span.length_m = 50;
  for (const double at_m : {6.0, 18.0, 32.0, 44.0}) {
    Dropper dropper;
    dropper.at_m = at_m;
    dropper.stiffness_n_per_m = 5e4;
    dropper.mass_on_contact_wire_kg = 0.2;
    span.droppers.push_back(dropper);
  }
  Support support;
  support.encumbrance_m = 1.4;
  support.messenger_stiffness_n_per_m = 5e5;
  support.steady_arm_mass_kg = 1;
  line.spans.assign(4, span);
  line.supports.assign(5, support);
  return line;
}

/// The equations in space, from what the grid says and nothing else of ours.
struct Equations {
  const LineGrid& grid;
  const std::vector<ShapeNode>& shape;
  PantographModel model;
  std::vector<std::size_t> first;         ///< of each wire's nodes
  std::vector<std::vector<double>> mass;  ///< by node
  std::size_t lifts = 0;
  std::array<double, 4> missing{};

  std::size_t pantograph() const { return lifts - model.masses.size(); }

  Equations(const LineGrid& of_grid, const std::vector<ShapeNode>& of_shape)
      : grid(of_grid), shape(of_shape), model(reference_pantograph()) {
    for (const GridWire& wire : grid.wires) {
      first.push_back(lifts);
      lifts += static_cast<std::size_t>(wire.cells) + 1;
      mass.emplace_back(static_cast<std::size_t>(wire.cells) + 1, wire.node_mass_kg);
    }
    for (const GridMass& one : grid.masses) {
      mass[static_cast<std::size_t>(one.wire)][static_cast<std::size_t>(one.node)] += one.mass_kg;
    }
    lifts += model.masses.size();
    GridWire moving = grid.wires[0];
    moving.tension_n -= moving.node_mass_kg / moving.spacing_m * speed_ms * speed_ms;
    missing = missing_lifts(moving);
  }

  double at(const double* u, const GridPoint& point) const {
    double sum = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      sum +=
          point.share[k] *
          u[first[static_cast<std::size_t>(point.wire)] + static_cast<std::size_t>(point.node) + k];
    }
    return sum;
  }

  void push(double* force, const GridPoint& point, double n) const {
    for (std::size_t k = 0; k < 4; ++k) {
      force[first[static_cast<std::size_t>(point.wire)] + static_cast<std::size_t>(point.node) +
            k] += n * point.share[k];
    }
  }

  double contact_force(double t, const double* u) const {
    const double x = start_m + speed_ms * t;
    const GridPoint point = grid_point(grid, 0, x);
    const double softness =
        std::max(1 / model.contact_stiffness_n_per_m + missing_compliance(missing, point.share),
                 0.1 / model.contact_stiffness_n_per_m);
    const double gap = u[pantograph()] - ShapeWalk(shape).height(x) - at(u, point);
    return std::max(0.0, gap / softness);
  }

  void operator()(double t, const double* u, const double* v, double* acceleration) const {
    std::fill(acceleration, acceleration + lifts, 0.0);
    for (std::size_t w = 0; w < grid.wires.size(); ++w) {
      const GridWire& wire = grid.wires[w];
      const double* lift = u + first[w];
      double* force = acceleration + first[w];
      const double h = wire.spacing_m;
      const double stretch = wire.tension_n / h;
      const double bend = (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) / (h * h * h);
      const auto at_node = [&](int j) {
        return j < 0 ? -lift[-j] : j > wire.cells ? -lift[2 * wire.cells - j] : lift[j];
      };
      const auto second = [&](int j) { return at_node(j - 1) - 2 * at_node(j) + at_node(j + 1); };
      for (int j = 1; j < wire.cells; ++j) {
        force[j] = stretch * second(j) - bend * (second(j - 1) - 2 * second(j) + second(j + 1));
      }
    }
    for (const GridSpring& spring : grid.springs) {
      const double elongation = (spring.grounded ? 0 : at(u, spring.upper)) - at(u, spring.lower);
      const double n = std::max(-spring.static_force_n,
                                (elongation - spring.slack_m) / spring.compliance_m_per_n);
      push(acceleration, spring.lower, n);
      if (!spring.grounded) {
        push(acceleration, spring.upper, -n);
      }
    }
    const double n = contact_force(t, u);
    push(acceleration, grid_point(grid, 0, start_m + speed_ms * t), n);
    for (std::size_t w = 0; w < grid.wires.size(); ++w) {
      for (std::size_t j = 0; j < mass[w].size(); ++j) {
        const std::size_t i = first[w] + j;
        const bool held = j == 0 || j + 1 == mass[w].size();
        acceleration[i] = held ? 0 : acceleration[i] / mass[w][j] - grid.mass_damping_per_s * v[i];
      }
    }
    const std::size_t head = pantograph();
    const std::size_t count = model.masses.size();
    acceleration[head] -= n;
    acceleration[lifts - 1] += frame_n * risen_share(speed_ms * t, ramp_m);
    for (std::size_t i = 0; i < count; ++i) {
      const bool lowest = i + 1 == count;
      const double stretch = u[head + i] - (lowest ? 0 : u[head + i + 1]);
      const double rate = v[head + i] - (lowest ? 0 : v[head + i + 1]);
      const double pull =
          model.masses[i].stiffness_n_per_m * stretch + model.masses[i].damping_ns_per_m * rate;
      acceleration[head + i] -= pull;
      if (!lowest) {
        acceleration[head + i + 1] += pull;
      }
    }
    for (std::size_t i = 0; i < count; ++i) {
      acceleration[head + i] /= model.masses[i].mass_kg;
    }
  }
};

int right_side(realtype t, N_Vector y, N_Vector ydot, void* data) {
  const auto& equations = *static_cast<const Equations*>(data);
  const double* u = N_VGetArrayPointer(y);
  double* out = N_VGetArrayPointer(ydot);
  const double* v = u + equations.lifts;
  std::copy(v, v + equations.lifts, out);
  equations(t, u, v, out + equations.lifts);
  return 0;
}

/// Contact force every `sample_s`, by CVODE.
std::vector<double> by_library(const Equations& equations) {
  std::vector<double> forces;
  SUNContext context = nullptr;
  SUNContext_Create(nullptr, &context);
  const auto size = static_cast<sunindextype>(2 * equations.lifts);
  N_Vector y = N_VNew_Serial(size, context);
  N_VConst(0, y);
  for (std::size_t i = equations.pantograph(); i < equations.lifts; ++i) {
    N_VGetArrayPointer(y)[i] = ShapeWalk(equations.shape).height(start_m);
  }
  void* solver = CVodeCreate(CV_ADAMS, context);
  CVodeInit(solver, right_side, 0, y);
  CVodeSStolerances(solver, 1e-8, 1e-11);
  CVodeSetUserData(solver, const_cast<Equations*>(&equations));
  CVodeSetMaxNumSteps(solver, 1000000);
  CVodeSetMaxStep(solver, 0.0005);
  SUNNonlinearSolver nonlinear = SUNNonlinSol_FixedPoint(y, 0, context);
  CVodeSetNonlinearSolver(solver, nonlinear);
  const auto samples = static_cast<long>(std::lround(length_s / sample_s));
  forces.push_back(equations.contact_force(0, N_VGetArrayPointer(y)));
  for (long i = 1; i <= samples; ++i) {
    realtype t = 0;
    CVode(solver, sample_s * static_cast<double>(i), y, &t, CV_NORMAL);
    forces.push_back(equations.contact_force(t, N_VGetArrayPointer(y)));
  }
  SUNNonlinSolFree(nonlinear);
  CVodeFree(&solver);
  N_VDestroy(y);
  SUNContext_Free(&context);
  return forces;
}

struct Ours {
  std::vector<double> forces;  ///< every `sample_s`
  int slackenings = 0;
};

Ours by_us(const LineGrid& grid, const std::vector<ShapeNode>& shape, double step_s) {
  Ours ours;
  LineMotion line(grid, step_s);
  ContactPoint contact(grid, shape, reference_pantograph(), start_m, speed_ms, step_s);
  PantographMotion pantograph(reference_pantograph(), step_s, contact.height_of_start());
  const auto every = static_cast<long>(std::lround(sample_s / step_s));
  const auto steps = static_cast<long>(std::lround(length_s / step_s));
  for (long step = 0; step <= steps; ++step) {
    const double run_m = speed_ms * step_s * static_cast<double>(step);
    line.advance(grid.length_m);
    pantograph.advance(frame_n * risen_share(run_m, ramp_m));
    const double force = contact.meet(line, pantograph);
    if (step % every == 0) {
      ours.forces.push_back(force);
    }
    line.accept();
    pantograph.accept();
  }
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    ours.slackenings += line.spring(i).times_slack;
  }
  return ours;
}

}  // namespace

Agreement ode_library() {
  Agreement agreement;
  agreement.title = "Time stepping against an ODE library";
  agreement.statement =
      "Four spans, a pantograph pressed with 260 N at 162 km/h: droppers slacken, contact is lost. "
      "On one "
      "grid, the contact force of our steps comes to that of CVODE as the step falls.";
  agreement.source =
      fmt::format("CVODE of SUNDIALS {}, Adams, relative tolerance 1e-8", SUNDIALS_VERSION);
  const ContactLine line = small_line();
  const PreparedLine prepared = prepare_line(line, {});
  // Coarse enough that every step of the table is stable on it.
  const LineGrid grid = std::get<LineGrid>(make_grid(line, prepared.state, 0.004, 0));
  const Equations equations(grid, prepared.state.contact_shape);
  const std::vector<double> theirs = by_library(equations);
  double scale = 0;
  int lost = 0;
  for (const double force : theirs) {
    scale = std::max(scale, force);
    lost += force == 0 ? 1 : 0;
  }
  Table table{"Contact force every 4 ms: root mean square and greatest difference to CVODE",
              {"step, ms", "root mean square, N", "greatest, N", "order"},
              {}};
  double before = 0;
  double order = 0;
  double finest = 0;
  int slackenings = 0;
  for (const double step_s : {0.004, 0.002, 0.001, 0.0005, 0.00025, 0.000125}) {
    const Ours ours = by_us(grid, prepared.state.contact_shape, step_s);
    slackenings = ours.slackenings;
    double squares = 0;
    double greatest = 0;
    for (std::size_t i = 0; i < theirs.size(); ++i) {
      const double difference = ours.forces[i] - theirs[i];
      squares += difference * difference;
      greatest = std::max(greatest, std::abs(difference));
    }
    finest = std::sqrt(squares / static_cast<double>(theirs.size()));
    order = before > 0 ? std::log2(before / finest) : 0;
    table.rows.push_back({fmt::format("{:g}", 1000 * step_s), fmt::format("{:.4f}", finest),
                          fmt::format("{:.4f}", greatest),
                          before > 0 ? fmt::format("{:.2f}", order) : std::string()});
    before = finest;
  }
  agreement.rows.push_back({"root mean square difference at 0.125 ms, of the greatest force", "%",
                            100 * finest / scale, 0, 0.3, 0});
  agreement.rows.push_back({"order, from the last two steps", "1", order, 1.6, 2.6, 0});
  agreement.rows.push_back(
      {"times that droppers go slack", "1", static_cast<double>(slackenings), 5, 1e6, 0});
  agreement.rows.push_back({"samples without contact", "1", static_cast<double>(lost), 3, 1e6, 0});
  agreement.tables.push_back(std::move(table));
  return agreement;
}

}  // namespace panup::validation
