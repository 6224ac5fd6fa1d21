#include "cli/kept_runs.h"

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/interruption.h"
#include "cli/progress.h"

namespace panup {

namespace {

class ThreadedRuns : public KeptRuns {
 public:
  explicit ThreadedRuns(int jobs) : jobs_(jobs) {}
  RunSource source() override { return interruptible(computed_runs(jobs_), progress_); }
  bool speaks() const override { return true; }
  int say_stopped() override {
    end_as_interrupted();
    return exit_fault;
  }

 private:
  int jobs_;
  Progress progress_;
};

}  // namespace

void add_kept_runs_options(CLI::App& command, KeptRunsOptions& options) {
  command.add_option("--store", options.store, "x");
}

std::unique_ptr<KeptRuns> open_kept_runs(const KeptRunsOptions&, int jobs) {
  note_interruptions();
  return std::make_unique<ThreadedRuns>(jobs);
}

}  // namespace panup
