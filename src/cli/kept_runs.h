#pragma once

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>
#include <string>

#include "quality/run_figures.h"
#include "runs/run_store.h"

namespace panup {

/// Where a command that needs many runs keeps them.
struct KeptRunsOptions {
  std::string store;  ///< empty: the default file
  bool no_store = false;
};

void add_kept_runs_options(CLI::App& command, KeptRunsOptions& options);

/// The store of the options, or none; in `wrong` why the one that was named cannot be used. Where
/// none was named, what is wrong with the usual one is said on standard error.
std::optional<RunStore> open_store(const KeptRunsOptions& options, std::string& wrong);

/// Runs for a command: found in the store, or computed on threads, or by the processes of an MPI
/// job, and put into the store; with progress on a terminal. From when it is opened, Ctrl-C stops
/// the runs and not the program.
class KeptRuns {
 public:
  /// Nothing, and said why on standard error, where the store named or the MPI job cannot be used.
  static std::optional<KeptRuns> open(const KeptRunsOptions& options, int jobs);

  KeptRuns(KeptRuns&& other) noexcept;
  KeptRuns& operator=(KeptRuns&& other) noexcept;
  ~KeptRuns();

  /// It must not outlive this object.
  RunSource source();

  /// What the runs that were computed have cost so far, by all processes of a job.
  RunsSpent spent() const;

  /// Takes the progress off the terminal, before something else is said.
  void clear_progress() const;

  /// Whether the runs are shared with other processes of an MPI job, which all have to ask for the
  /// same ones in the same order.
  bool shared() const;

  /// Whether this process hands out the result: of an MPI job only one does.
  bool speaks() const;

  /// Says what is kept and how to go on, where `source` was stopped; gives the exit status, or does
  /// not return where a signal stopped it.
  int say_stopped();

 private:
  struct State;
  explicit KeptRuns(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace panup
