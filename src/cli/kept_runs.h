#pragma once

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>
#include <string>

#include "quality/run_figures.h"

namespace panup {

/// Where a command that needs many runs keeps them.
struct KeptRunsOptions {
  std::string store;  ///< empty: the default file
  bool no_store = false;
};

void add_kept_runs_options(CLI::App& command, KeptRunsOptions& options);

/// Runs for a command: found in the store, or computed on threads, or on the processes of an MPI
/// job, and put into it; with progress on a terminal. Notes Ctrl-C from when it is opened.
class KeptRuns {
 public:
  KeptRuns(const KeptRuns&) = delete;
  KeptRuns& operator=(const KeptRuns&) = delete;
  virtual ~KeptRuns() = default;

  virtual RunSource source() = 0;
  /// Whether this process hands out the result: of an MPI job only one does.
  virtual bool speaks() const = 0;
  /// Says what is kept and how to go on, where `source` was stopped; gives the exit status, or does
  /// not return where a signal stopped it.
  virtual int say_stopped() = 0;

 protected:
  KeptRuns() = default;
};

/// Nothing, and said why on standard error, where the store named cannot be used.
std::unique_ptr<KeptRuns> open_kept_runs(const KeptRunsOptions& options, int jobs);

}  // namespace panup
