#include "fitting/simulated_rows.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "dynamics/evaluation.h"
#include "records/compare_record.h"

namespace panup {

namespace {

/// The simulated force at a place, between the steps of the run.
double force_at(const Trace::OfPantograph& trace, double at_m, std::size_t& row) {
  while (row + 2 < trace.at_m.size() && trace.at_m[row + 1] < at_m) {
    ++row;
  }
  const double from = trace.at_m[row];
  const double to = trace.at_m[row + 1];
  const double share = std::clamp((at_m - from) / (to - from), 0.0, 1.0);
  return trace.filtered_force_n[row] +
         share * (trace.filtered_force_n[row + 1] - trace.filtered_force_n[row]);
}

void filter_like(double cutoff_hz, SimulationResult& result) {
  if (cutoff_hz >= contact_force_cutoff_hz) {
    return;
  }
  for (Trace::OfPantograph& trace : result.trace->pantographs) {
    trace.filtered_force_n = low_pass(trace.contact_force_n, result.step_s, cutoff_hz);
  }
}

double default_step_of(const ContactLine& line) {
  const bool bends =
      line.contact_wire.bending_stiffness_nm2 > 0 || line.messenger_wire.bending_stiffness_nm2 > 0;
  return bends ? default_step_with_bending_s : default_step_s;
}

}  // namespace

std::vector<FitRow> all_rows(const FitCase& fit) {
  std::vector<FitRow> rows;
  for (const FitRun& run : fit.runs) {
    for (const FitSeries& series : run.series) {
      rows.insert(rows.end(), series.rows.begin(), series.rows.end());
    }
  }
  return rows;
}

std::vector<std::optional<std::vector<double>>> simulated_rows(
    const FitCase& fit, const std::vector<std::vector<double>>& logarithms, double step_share) {
  std::vector<std::unique_ptr<ContactLine>> lines;
  std::vector<SimulationRequest> requests;
  for (const std::vector<double>& set : logarithms) {
    ContactLine line = fit.line;
    std::vector<RunningPantograph> pantographs = fit.pantographs;
    for (std::size_t i = 0; i < set.size(); ++i) {
      multiply(fit.quantities[i], std::exp(set[i]), line, pantographs);
    }
    for (const FitRun& run : fit.runs) {
      lines.push_back(std::make_unique<ContactLine>(run.falling ? mirrored(line) : line));
      SimulationRequest request;
      request.line = lines.back().get();
      request.pantographs = pantographs;
      request.speed_kmh = run.speed_kmh;
      request.settings.keep_trace = true;
      request.settings.balance_energy = false;
      if (step_share != 1) {
        request.settings.step_s = step_share * default_step_of(line);
        request.settings.guarded = false;
      }
      requests.push_back(std::move(request));
    }
  }
  std::vector<SimulationOutcome> outcomes = simulate_all(requests, fit.jobs);
  std::vector<std::optional<std::vector<double>>> out(logarithms.size());
  for (std::size_t set = 0; set < logarithms.size(); ++set) {
    std::vector<double> forces;
    bool answered = true;
    for (std::size_t i = 0; i < fit.runs.size() && answered; ++i) {
      SimulationOutcome& outcome = outcomes[set * fit.runs.size() + i];
      answered = outcome.result.has_value();
      if (!answered) {
        break;
      }
      filter_like(fit.low_pass_hz, *outcome.result);
      for (const FitSeries& series : fit.runs[i].series) {
        std::size_t row = 0;
        for (const FitRow& measured : series.rows) {
          forces.push_back(
              force_at(outcome.result->trace->pantographs[series.pantograph], measured.at_m, row));
        }
      }
    }
    if (answered) {
      out[set] = std::move(forces);
    }
  }
  return out;
}

}  // namespace panup
