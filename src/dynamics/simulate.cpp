#include "dynamics/simulate.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "dynamics/contact_point.h"
#include "dynamics/evaluation.h"
#include "dynamics/flush_denormals.h"
#include "dynamics/frame_force.h"
#include "dynamics/line_grid.h"
#include "dynamics/line_motion.h"
#include "dynamics/pantograph_motion.h"
#include "dynamics/prepared_line.h"
#include "dynamics/run_course.h"
#include "dynamics/shape_recorder.h"
#include "dynamics/step_choice.h"

namespace panup {

namespace {

constexpr std::size_t most_pantographs = 8;
constexpr double least_distance_m = 1;
/// Source: EN 50119 (from memory): running speed at most this share of the wave speed.
constexpr double usual_share_of_wave_speed = 0.7;
/// Between looks at the whole line: for energy, and for the greatest lift within spans.
constexpr long steps_between_looks = 64;
/// Between reckonings of what the line's damping takes.
constexpr long steps_between_dissipation = 4;
/// The same where the balance is not asked for, and only guards against a run gone wrong.
constexpr long steps_between_guards = 64;
constexpr long steps_between_guarding_balances = 256;
/// And where only what is near the pantographs moves, for that part is short.
constexpr long steps_between_looks_near = 256;
/// What moves then, before and beyond the pantographs.
constexpr double near_behind_m = 150;
constexpr double near_ahead_m = 200;
/// Each step that the figures are held against is shorter by this.
constexpr double shorter = 0.6;
/// Rows of history, over all pantographs, beyond which a run would not fit a common memory.
constexpr double most_rows = 5e7;
/// Share of the peak of what was stored. A run that keeps its balance stays far below.
constexpr double telling_energy_error = 0.01;
/// Of the time. The model is meant for heads that stay on the wire but for moments.
constexpr double telling_loss_percent = 3;
/// Of what presses a head up, and no less than some newtons.
constexpr double telling_share_of_force = 0.1;
constexpr double telling_force_n = 5;
/// A wire or a collector head so far from its place is a run gone wrong.
constexpr double senseless_lift_m = 10;

std::vector<Sentence> refusals_of(const SimulationRequest& request) {
  std::vector<Sentence> refusals;
  const auto& pantographs = request.pantographs;
  if (pantographs.empty() || pantographs.size() > most_pantographs) {
    refusals.push_back(to_say("{} pantographs are given; 1 to {} can be simulated",
                              pantographs.size(), most_pantographs));
    return refusals;
  }
  for (const RunningPantograph& one : pantographs) {
    if (one.model.masses.empty() || one.model.masses.size() > most_pantograph_masses) {
      refusals.push_back(to_say("the pantograph model '{}' has {} masses; 1 to {} are right",
                                one.model.id, one.model.masses.size(), most_pantograph_masses));
    }
    if (!std::isfinite(one.static_force_n) || !std::isfinite(one.behind_first_m)) {
      refusals.push_back(to_say("a static force or a distance is not a number"));
    }
    const double frame_n =
        one.static_force_n + aerodynamic_force(one.model, one.knuckle, request.speed_kmh);
    if (frame_n <= 0) {
      refusals.push_back(
          to_say("the pantograph '{}' is pressed up with {:.0f} N at {:g} km/h: it does not rise",
                 one.model.id, frame_n, request.speed_kmh));
    }
  }
  if (pantographs.front().behind_first_m != 0) {
    refusals.push_back(to_say("the first pantograph's distance behind itself is not 0"));
  }
  for (std::size_t i = 1; i < pantographs.size(); ++i) {
    const double distance = pantographs[i].behind_first_m - pantographs[i - 1].behind_first_m;
    if (!(distance >= least_distance_m)) {
      refusals.push_back(to_say("pantographs {} and {} are {:g} m apart; {:g} m is the least", i,
                                i + 1, distance, least_distance_m));
    }
  }
  if (!(request.speed_kmh > 0) || !std::isfinite(request.speed_kmh)) {
    refusals.push_back(to_say("the speed is {:g} km/h; it is above 0", request.speed_kmh));
  }
  const auto& settings = request.settings;
  constexpr double longest_step_s = 0.005;
  if (settings.step_s && !(*settings.step_s > 0 && *settings.step_s <= longest_step_s)) {
    refusals.push_back(to_say("the step is {:g} ms; it is above 0, to {:g}",
                              1000 * *settings.step_s, 1000 * longest_step_s));
  }
  if (settings.grid_m && !(*settings.grid_m > 0 && *settings.grid_m <= 1)) {
    refusals.push_back(
        to_say("the grid's spacing is {:g} m; it is above 0, to 1", *settings.grid_m));
  }
  if (!std::isfinite(settings.from_m.value_or(0)) || !std::isfinite(settings.to_m.value_or(0))) {
    refusals.push_back(to_say("an end of the stretch to be evaluated is not a number"));
  }
  if (settings.wire_shapes &&
      !(settings.wire_shapes->every_s > 0 && settings.wire_shapes->every_m > 0)) {
    refusals.push_back(
        to_say("shapes of the wires are kept every so many seconds and metres above 0"));
  }
  return refusals;
}

/// The line with the mass that ice adds to its wires.
ContactLine with_ice(ContactLine line, const SimulationSettings& settings) {
  if (settings.weather_given) {
    const LineWeather& weather = settings.weather;
    line.contact_wire.mass_kg_per_m += weather.ice_on_contact_wire_kg_per_m;
    line.messenger_wire.mass_kg_per_m += weather.ice_on_messenger_wire_kg_per_m;
    for (Support& support : line.supports) {
      if (support.stitch_wire) {
        support.stitch_wire->wire.mass_kg_per_m += weather.ice_on_messenger_wire_kg_per_m;
      }
    }
  }
  return line;
}

/// All that is tallied while the train runs.
struct Tally {
  std::vector<std::vector<double>> forces;        ///< by pantograph, each step
  std::vector<std::vector<double>> head_heights;  ///< likewise
  std::vector<std::vector<double>> wire_heights;  ///< likewise, for a trace
  std::vector<double> support_lifts;
  std::vector<SpanUplift> spans;
  EnergyBalance energy;
};

class Run {
 public:
  Run(const SimulationRequest& request, const StaticState& state, const LineGrid& grid,
      const RunCourse& course, const std::vector<FrameForce>& frames, double step_s)
      : request_(request),
        grid_(grid),
        course_(course),
        line_(grid, step_s),
        frames_(frames),
        between_dissipation_(request.settings.balance_energy ? steps_between_dissipation
                                                             : steps_between_guards),
        between_looks_(request.settings.near_only ? steps_between_looks_near : steps_between_looks),
        between_balances_(request.settings.balance_energy ? steps_between_looks
                                                          : steps_between_guarding_balances) {
    const double speed_ms = request.speed_kmh / 3.6;
    steps_ = static_cast<long>(std::ceil((course.end_m - course.start_m) / (speed_ms * step_s)));
    for (const RunningPantograph& one : request.pantographs) {
      contacts_.emplace_back(grid, state.contact_shape, one.model,
                             course.start_m - one.behind_first_m, speed_ms, step_s);
      pantographs_.emplace_back(one.model, step_s, contacts_.back().height_of_start());
    }
    const auto length = static_cast<std::size_t>(steps_);
    tally_.forces.assign(contacts_.size(), std::vector<double>(length));
    tally_.head_heights.assign(contacts_.size(), std::vector<double>(length));
    if (request.settings.keep_trace) {
      tally_.wire_heights.assign(contacts_.size(), std::vector<double>(length));
    }
    tally_.support_lifts.assign(grid.supports.size(), 0);
    supports_m_ = support_positions(*request.line);
    for (std::size_t i = 0; i + 1 < supports_m_.size(); ++i) {
      tally_.spans.push_back({supports_m_[i], supports_m_[i + 1], supports_m_[i], 0});
    }
    span_of_.assign(contacts_.size(), 0);
    for (const PantographMotion& one : pantographs_) {
      start_energy_ += one.energy();
    }
    if (request.settings.wire_shapes) {
      recorder_.emplace(*request.settings.wire_shapes, grid, course,
                        request.pantographs.back().behind_first_m, speed_ms, step_s);
    }
    reached_m_ = course.start_m + reached_margin_m;
    for (const GridWire& wire : grid.wires) {
      const double cells = wire.bending_stiffness_nm2 + wire.added_stiffness_nm2 > 0 ? 2 : 1;
      reach_m_ = std::max(reach_m_, cells * wire.spacing_m);
    }
  }

  /// Whether the run stayed within sense and was not stopped.
  bool go() {
    const FlushDenormals flush;
    for (long step = 0; step < steps_; ++step) {
      if (step % between_looks_ == 0 && request_.settings.stopped && request_.settings.stopped()) {
        stopped_ = true;
        return false;
      }
      one_step(step);
    }
    balance();
    return sensible_;
  }

  bool stopped() const { return stopped_; }
  const Tally& tally() const { return tally_; }
  const LineMotion& line() const { return line_; }
  WireShapes take_shapes() { return recorder_->take(); }
  long steps() const { return steps_; }

 private:
  void one_step(long step) {
    const double run_m = contacts_.front().at_m() - course_.start_m;
    const double share = risen_share(run_m, course_.ramp_m);
    const auto row = static_cast<std::size_t>(step);
    // Nothing is felt further ahead than one step's reach of the differences: beyond, the line is
    // at rest, exactly.
    reached_m_ += reach_m_;
    if (request_.settings.near_only && step % between_looks_ == 0) {
      keep_near();
    }
    const bool damping_is_looked_at = line_.damped() && step % between_dissipation_ == 0;
    line_.advance(std::min(reached_m_, grid_.length_m), damping_is_looked_at);
    for (std::size_t i = 0; i < contacts_.size(); ++i) {
      PantographMotion& pantograph = pantographs_[i];
      ContactPoint& contact = contacts_[i];
      const double frame_n = frames_[i].at(share);
      pantograph.advance(frame_n);
      tally_.head_heights[i][row] = pantograph.head();
      tally_.forces[i][row] = contact.meet(line_, pantograph);
      tally_.energy.work_of_frames_j += pantograph.frame_work(frame_n);
      tally_.energy.work_of_traction_j += contact.traction_work();
      tally_.energy.dissipated_j += pantograph.dissipation();
    }
    if (damping_is_looked_at) {
      tally_.energy.dissipated_j += static_cast<double>(between_dissipation_) * line_.dissipation();
    }
    line_.accept();
    if (request_.settings.near_only && step % steps_between_softenings == 0) {
      tally_.energy.dissipated_j += line_.soften();
    }
    for (std::size_t i = 0; i < contacts_.size(); ++i) {
      pantographs_[i].accept();
      note_lift(i);
      if (request_.settings.keep_trace) {
        tally_.wire_heights[i][row] = contacts_[i].wire_height(line_);
      }
    }
    if (recorder_) {
      recorder_->note(step + 1, line_, contacts_, pantographs_);
    }
    for (std::size_t i = 0; i < supports_m_.size() && supports_m_[i] <= reached_m_; ++i) {
      tally_.support_lifts[i] = std::max(tally_.support_lifts[i], line_.lift(grid_.supports[i]));
    }
    if (step % between_looks_ == 0) {
      look_at_spans();
    }
    if (step % between_balances_ == 0) {
      balance();
    }
  }

  /// What energy is left behind is lost to the run.
  void keep_near() {
    const auto stored_j = [this] {
      const LineEnergy of_line = line_.energy();
      return of_line.kinetic_j + of_line.potential_j;
    };
    const double before_j = stored_j();
    line_.keep_to(contacts_.back().at_m() - near_behind_m, contacts_.front().at_m() + near_ahead_m);
    tally_.energy.dissipated_j += before_j - stored_j();
  }

  void note_lift(std::size_t pantograph) {
    const ContactPoint& contact = contacts_[pantograph];
    std::size_t& span = span_of_[pantograph];
    while (span + 1 < tally_.spans.size() && contact.at_m() >= tally_.spans[span].to_m) {
      ++span;
    }
    raise(tally_.spans[span], contact.at_m(), contact.lift(line_));
  }

  static void raise(SpanUplift& span, double at_m, double lift_m) {
    if (1000 * lift_m > span.uplift_mm) {
      span.uplift_mm = 1000 * lift_m;
      span.at_m = at_m;
    }
  }

  void look_at_spans() {
    const std::span<const double> lifts = line_.present(0);
    const double h = grid_.wires[0].spacing_m;
    for (SpanUplift& span : tally_.spans) {
      if (span.from_m > reached_m_) {
        break;
      }
      const auto first = static_cast<std::size_t>(std::ceil(span.from_m / h));
      const auto last = std::min(static_cast<std::size_t>(span.to_m / h), lifts.size() - 1);
      for (std::size_t node = first; node <= last; ++node) {
        raise(span, static_cast<double>(node) * h, lifts[node]);
      }
    }
  }

  void balance() {
    const LineEnergy of_line = line_.energy();
    double stored = of_line.kinetic_j + of_line.potential_j - start_energy_;
    for (const PantographMotion& one : pantographs_) {
      stored += one.energy();
    }
    for (const ContactPoint& one : contacts_) {
      stored += one.stored_energy();
    }
    EnergyBalance& energy = tally_.energy;
    energy.stored_j = stored;
    energy.peak_stored_j = std::max(energy.peak_stored_j, std::abs(stored));
    energy.missing_j =
        energy.work_of_frames_j + energy.work_of_traction_j - stored - energy.dissipated_j;
    sensible_ = sensible_ && std::isfinite(stored);
    for (const PantographMotion& one : pantographs_) {
      sensible_ = sensible_ && std::abs(one.head()) < senseless_lift_m;
    }
    for (const ContactPoint& one : contacts_) {
      sensible_ = sensible_ && std::abs(one.wire_height(line_)) < senseless_lift_m;
    }
  }

  const SimulationRequest& request_;
  const LineGrid& grid_;
  const RunCourse& course_;
  long steps_ = 0;
  LineMotion line_;
  std::vector<PantographMotion> pantographs_;
  std::vector<ContactPoint> contacts_;
  const std::vector<FrameForce>& frames_;
  long between_dissipation_;
  long between_looks_;
  long between_balances_;
  std::vector<double> supports_m_;
  std::vector<std::size_t> span_of_;
  double start_energy_ = 0;
  double reached_m_ = 0;
  double reach_m_ = 0;
  bool sensible_ = true;
  bool stopped_ = false;
  Tally tally_;
  std::optional<ShapeRecorder> recorder_;
};

/// The rows of a run in which a pantograph is within the evaluated stretch.
struct Rows {
  std::size_t from = 0;
  std::size_t to = 0;
};

Rows evaluated_rows(const RunCourse& course, double behind_m, double way_of_step_m,
                    std::size_t size) {
  const double start = course.start_m - behind_m;
  const auto row_at = [&](double at_m) {
    return std::min(size, static_cast<std::size_t>(std::ceil((at_m - start) / way_of_step_m)));
  };
  return {row_at(course.from_m), row_at(course.to_m)};
}

void evaluate_run(SimulationResult& result, const SimulationRequest& request,
                  const RunCourse& course, const Tally& tally, double step_s) {
  const double way_of_step = request.speed_kmh / 3.6 * step_s;
  if (request.settings.keep_trace) {
    result.trace.emplace();
    result.trace->step_s = step_s;
  }
  for (std::size_t i = 0; i < request.pantographs.size(); ++i) {
    const double behind = request.pantographs[i].behind_first_m;
    const std::vector<double>& raw = tally.forces[i];
    const std::vector<double> filtered = low_pass(raw, step_s, contact_force_cutoff_hz);
    const Rows rows = evaluated_rows(course, behind, way_of_step, raw.size());
    const auto within = [&](const std::vector<double>& values) {
      return std::span<const double>(values).subspan(rows.from, rows.to - rows.from);
    };
    PantographRun run = evaluate(within(raw), within(filtered), step_s);
    run.position_m = behind;
    const auto heights = within(tally.head_heights[i]);
    run.highest_head_m = *std::ranges::max_element(heights);
    run.lowest_head_m = *std::ranges::min_element(heights);
    result.pantographs.push_back(std::move(run));
    if (!result.trace) {
      continue;
    }
    Trace::OfPantograph trace;
    for (std::size_t row = rows.from; row < rows.to; ++row) {
      trace.time_s.push_back(step_s * static_cast<double>(row));
      trace.at_m.push_back(course.start_m - behind + way_of_step * static_cast<double>(row));
    }
    const auto copy = [&](const std::vector<double>& values) {
      const auto part = within(values);
      return std::vector<double>(part.begin(), part.end());
    };
    trace.contact_force_n = copy(raw);
    trace.filtered_force_n = copy(filtered);
    trace.head_height_m = copy(tally.head_heights[i]);
    trace.wire_height_m = copy(tally.wire_heights[i]);
    result.trace->pantographs.push_back(std::move(trace));
  }
}

void note_uplifts(SimulationResult& result, const SimulationRequest& request,
                  const RunCourse& course, const LineGrid& grid, const Run& run, double step_s) {
  const auto within = [&](double at_m) { return lies_in(at_m, course.from_m, course.to_m); };
  const std::vector<double> supports = support_positions(*request.line);
  for (std::size_t i = 0; i < supports.size(); ++i) {
    if (within(supports[i])) {
      const double uplift_mm = 1000 * run.tally().support_lifts[i];
      result.support_uplifts.push_back({supports[i], uplift_mm});
      result.max_support_uplift_mm = std::max(result.max_support_uplift_mm, uplift_mm);
    }
  }
  for (const SpanUplift& span : run.tally().spans) {
    if (within(span.from_m) && within(span.to_m)) {
      result.span_uplifts.push_back(span);
      result.max_span_uplift_mm = std::max(result.max_span_uplift_mm, span.uplift_mm);
    }
  }
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    if (grid.springs[i].kind == SpringKind::dropper && within(grid.springs[i].at_m)) {
      const SpringRecord record = run.line().spring(i);
      result.droppers.push_back({grid.springs[i].at_m,
                                 1000 * step_s * static_cast<double>(record.slack_steps),
                                 record.times_slack, record.greatest_force_n});
    }
  }
}

}  // namespace

double EnergyBalance::relative_error() const {
  return peak_stored_j > 0 ? missing_j / peak_stored_j : 0;
}

namespace {

/// A request with all that its runs share, whatever their step.
struct PreparedRun {
  const SimulationRequest& request;
  const StaticState& state;
  ContactLine line;  ///< with its ice
  RunCourse way;
  std::vector<FrameForce> frames;
  double wave_speed_kmh = 0;
};

/// One run, or why there is none.
struct Attempt {
  std::optional<SimulationResult> result;
  Sentence refusal;
  bool grid_too_coarse = false;  ///< a shorter step would have a grid
};

Attempt run_in(const PreparedRun& prepared, double step_s) {
  const auto began = std::chrono::steady_clock::now();
  const SimulationRequest& request = prepared.request;
  const auto made =
      make_grid(prepared.line, prepared.state, step_s, request.settings.grid_m.value_or(0));
  if (const auto* refusal = std::get_if<Sentence>(&made)) {
    return {{}, *refusal, true};
  }
  const auto& grid = std::get<LineGrid>(made);
  if (!is_stable(grid, step_s)) {
    if (!request.settings.grid_m) {
      return {{},
              to_say("a wire is too short for the grid that a step of {:g} ms needs; a "
                     "shorter step makes it finer",
                     1000 * step_s),
              true};
    }
    Wire contact_wire = combined_contact_wire(prepared.line);
    contact_wire.tension_n = prepared.state.contact_tension_n;
    return {{},
            to_say("a step of {:g} ms is not stable on a grid of {:g} m; the grid may be "
                   "{:.3f} m at the finest",
                   1000 * step_s, *request.settings.grid_m,
                   stable_spacing(contact_wire, prepared.line.stiffness_damping_s, step_s)),
            true};
  }
  const double rows = (prepared.way.end_m - prepared.way.start_m) /
                      (request.speed_kmh / 3.6 * step_s) *
                      static_cast<double>(request.pantographs.size());
  if (rows > most_rows) {
    return {{},
            to_say("the run would take {:.0f} million steps of one pantograph, in steps of "
                   "{:g} ms; {:.0f} million are the most: take a shorter line or a higher "
                   "speed",
                   rows / 1e6, 1000 * step_s, most_rows / 1e6)};
  }
  Run run(request, prepared.state, grid, prepared.way, prepared.frames, step_s);
  if (!run.go()) {
    return {{},
            run.stopped()
                ? to_say("the run was stopped")
                : to_say("the run diverged and has no result: wire or pantograph left all sense")};
  }
  SimulationResult result;
  result.speed_kmh = request.speed_kmh;
  result.wave_speed_kmh = prepared.wave_speed_kmh;
  result.warnings = prepared.way.warnings;
  result.step_s = step_s;
  result.contact_grid_m = grid.wires[0].spacing_m;
  result.messenger_grid_m = grid.wires[1].spacing_m;
  result.from_m = prepared.way.from_m;
  result.to_m = prepared.way.to_m;
  result.energy = run.tally().energy;
  evaluate_run(result, request, prepared.way, run.tally(), step_s);
  note_uplifts(result, request, prepared.way, grid, run, step_s);
  if (request.settings.wire_shapes) {
    result.wire_shapes = run.take_shapes();
    add_rest_heights(*result.wire_shapes, *request.line, request.settings,
                     prepared.state.contact_shape);
  }
  result.simulated_s = static_cast<double>(run.steps()) * step_s;
  result.wall_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  return {std::move(result), {}};
}

/// A run in the first of a row of shorter and shorter steps that has a grid.
Attempt run_in_first(const PreparedRun& prepared, double step_s) {
  const bool chosen = !prepared.request.settings.step_s;
  while (true) {
    Attempt attempt = run_in(prepared, step_s);
    constexpr double a_little_shorter = 0.93;
    if (!attempt.grid_too_coarse || !chosen || step_s * a_little_shorter < shortest_chosen_step_s) {
      return attempt;
    }
    step_s *= a_little_shorter;
  }
}

/// Repeats a run in shorter steps until two of them have the same figures, and gives the last.
Attempt stand_still(const PreparedRun& prepared, Attempt attempt) {
  const bool chosen = !prepared.request.settings.step_s;
  while (true) {
    const double step_s = attempt.result->step_s * shorter;
    if (step_s < shortest_chosen_step_s * shorter) {
      return {{},
              to_say("no step down to {:g} ms has figures that stand still when it is "
                     "shortened: contact, droppers or springs are stiffer than can be followed",
                     1000 * attempt.result->step_s)};
    }
    Attempt finer = run_in(prepared, step_s);
    if (!finer.result) {
      return finer;
    }
    const std::optional<Sentence> moved = moved_figures(*attempt.result, *finer.result);
    if (!moved) {
      return chosen ? std::move(finer) : std::move(attempt);
    }
    if (!chosen) {
      return {{},
              to_say("a step of {:g} ms is too long for this contact, these droppers or these "
                     "springs: {}; a shorter one, or none, which lets the program choose, "
                     "would do",
                     1000 * attempt.result->step_s, *moved)};
    }
    attempt = std::move(finer);
  }
}

void warn_of_energy(SimulationResult& result, bool compared, bool balanced) {
  const double missing = std::abs(result.energy.relative_error());
  // Without the balance, damping is reckoned so seldom that only what is gross can be told.
  if (balanced ? missing <= telling_energy_error : !is_doubtful(result.energy)) {
    return;
  }
  result.warnings.push_back(
      {Doubt::energy,
       compared
           ? to_say("{:.1f} % of the energy is unaccounted for: droppers or contact go slack and "
                    "taut faster than the step can follow. Forces, contact loss and uplift stand "
                    "still when the step is shortened; forces in droppers may not.",
                    100 * missing)
           : to_say("{:.1f} % of the energy is unaccounted for: droppers or contact go slack and "
                    "taut faster than the step can follow. Doubt the figures, and try a shorter "
                    "step.",
                    100 * missing)});
}

void warn_of_forces(SimulationResult& result, const SimulationRequest& request) {
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    const RunningPantograph& one = request.pantographs[i];
    const PantographRun& run = result.pantographs[i];
    const double pressed_n =
        one.static_force_n + aerodynamic_force(one.model, one.knuckle, request.speed_kmh);
    if (std::abs(run.mean_n - pressed_n) >
        std::max(telling_force_n, telling_share_of_force * pressed_n)) {
      result.warnings.push_back(
          {Doubt::mean_force,
           to_say("Pantograph {} is pressed up with {:.0f} N, and its mean contact force is "
                  "{:.0f} N: the spring at its bottom takes the rest.",
                  i + 1, pressed_n, run.mean_n)});
    }
    if (run.contact_loss_percent > telling_loss_percent) {
      result.warnings.push_back(
          {Doubt::contact_lost,
           to_say("Pantograph {} has lost contact for {:.1f} % of the time: the model is not "
                  "meant for that.",
                  i + 1, run.contact_loss_percent)});
    }
    if (one.model.static_force_at_height_m && !request.line->contact_wire_height_m) {
      result.warnings.push_back(
          {Doubt::height_not_stated,
           to_say("The static force of pantograph {} is stated at a height of {:g} m, and the "
                  "line does not state the height of its contact wire: it is taken to be that.",
                  i + 1, *one.model.static_force_at_height_m)});
    }
  }
}

}  // namespace

SimulationOutcome simulate(const SimulationRequest& request) {
  if (auto refusals = refusals_of(request); !refusals.empty()) {
    return {{}, std::move(refusals)};
  }
  SimulationOutcome outcome = simulate_on(prepare_line(*request.line, request.settings), request);
  if (!outcome.result || states_messenger_stiffness(*request.line)) {
    return outcome;
  }
  const ContactLine soft = with_messenger_stiffness(*request.line, soft_messenger_support_n_per_m);
  SimulationRequest again = request;
  again.line = &soft;
  again.settings.keep_trace = false;
  again.settings.wire_shapes.reset();
  SimulationOutcome other = simulate_on(prepare_line(soft, again.settings), again);
  if (!other.result) {
    return other;
  }
  SimulationResult& result = *outcome.result;
  Sentence swing;
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    const Sentence of_one =
        to_say("pantograph {} has a standard deviation of {:.1f} N instead of {:.1f} N", i + 1,
               other.result->pantographs[i].std_n, result.pantographs[i].std_n);
    swing = i == 0 ? of_one : to_say("{}, {}", swing, of_one);
  }
  result.warnings.push_back(
      {Doubt::support_stiffness,
       to_say("The line does not state how stiff its messenger supports are. Taken are {:g} kN/m; "
              "with {:g} kN/m {}. Take the worse.",
              stiff_messenger_support_n_per_m / 1000, soft_messenger_support_n_per_m / 1000,
              swing)});
  result.other_supports =
      OtherSupports{stiff_messenger_support_n_per_m, soft_messenger_support_n_per_m,
                    std::move(other.result->pantographs), other.result->max_support_uplift_mm};
  return outcome;
}

SimulationOutcome simulate_on(const PreparedLine& prepared, const SimulationRequest& request) {
  if (auto refusals = refusals_of(request); !refusals.empty()) {
    return {{}, std::move(refusals)};
  }
  if (!prepared.refusals.empty()) {
    return {{}, prepared.refusals};
  }
  ContactLine line = with_ice(*request.line, request.settings);
  Wire contact_wire = combined_contact_wire(line);
  contact_wire.tension_n = prepared.state.contact_tension_n;
  const double wave_speed_kmh = 3.6 * wave_speed(contact_wire);
  if (request.speed_kmh >= wave_speed_kmh) {
    return {{},
            {to_say("the speed of {:g} km/h is not below the wave speed of the contact wire, "
                    "{:.0f} km/h",
                    request.speed_kmh, wave_speed_kmh)}};
  }
  auto course = plan_course(request);
  if (const auto* refusal = std::get_if<Sentence>(&course)) {
    return {{}, {*refusal}};
  }
  auto& way = std::get<RunCourse>(course);
  if (request.speed_kmh > usual_share_of_wave_speed * wave_speed_kmh) {
    way.warnings.insert(
        way.warnings.begin(),
        {Doubt::near_wave_speed,
         to_say("The speed is {:.0f} % of the contact wire's wave speed of {:.0f} km/h; "
                "EN 50119 allows 70 % (from memory).",
                100 * request.speed_kmh / wave_speed_kmh, wave_speed_kmh)});
  }
  const PreparedRun run{.request = request,
                        .state = prepared.state,
                        .line = std::move(line),
                        .way = way,
                        .frames = frame_forces(request, prepared.state, way),
                        .wave_speed_kmh = wave_speed_kmh};
  const double step_s = request.settings.step_s
                            ? *request.settings.step_s
                            : step_by_contact(request, run.line, prepared.state);
  Attempt attempt = run_in_first(run, step_s);
  bool compared = false;
  if (attempt.result && request.settings.guarded &&
      (is_doubtful(request, run.line, prepared.state, attempt.result->step_s) ||
       is_doubtful(attempt.result->energy))) {
    attempt = stand_still(run, std::move(attempt));
    compared = true;
  }
  if (!attempt.result) {
    return {{}, {std::move(attempt.refusal)}};
  }
  SimulationResult& result = *attempt.result;
  warn_of_energy(result, compared, request.settings.balance_energy);
  warn_of_forces(result, request);
  if (!request.settings.balance_energy) {
    result.energy = {};
  }
  return {std::move(result), {}};
}

}  // namespace panup
