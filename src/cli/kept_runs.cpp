#include "cli/kept_runs.h"

#include <fmt/format.h>

#include <thread>

#include "cli/commands.h"
#include "cli/interruption.h"
#include "cli/option_checks.h"
#include "cli/progress.h"
#include "cli/say.h"
#include "runs/job.h"
#include "runs/run_keeper.h"

namespace panup {

struct KeptRuns::State {
  State(RunKeeper of, std::unique_ptr<Job> member, int threads)
      : keeper(std::move(of)), job(std::move(member)), jobs(threads) {}

  RunKeeper keeper;
  std::unique_ptr<Job> job;
  int jobs;
  Progress progress;
  RunsSpent spent;  ///< where there is no job
};

namespace {

/// A few runs for each thread: the store is written often enough that little is lost, and no thread
/// waits long for another's last run.
std::size_t batch_for(int jobs) {
  const unsigned threads =
      jobs > 0 ? static_cast<unsigned>(jobs) : std::max(1U, std::thread::hardware_concurrency());
  return std::size_t{8} * threads;
}

void warn(const std::string& text) { say("panup: {}\n", text); }

}  // namespace

std::optional<RunStore> open_store(const KeptRunsOptions& options, std::string& wrong) {
  if (options.no_store) {
    return std::nullopt;
  }
  const auto path = options.store.empty() ? default_store_path() : std::optional(options.store);
  if (!path) {
    warn("no folder for caches is known, so runs are not kept; name a file with --store");
    return std::nullopt;
  }
  auto opened = RunStore::open(*path);
  if (auto* const store = std::get_if<RunStore>(&opened)) {
    if (!store->note().empty()) {
      warn(store->note());
    }
    return std::move(*store);
  }
  wrong = std::get<std::string>(opened);
  if (options.store.empty()) {
    // Nobody asked for this file: the work does not hang on it.
    warn(wrong + "; going on without keeping runs");
    wrong.clear();
  }
  return std::nullopt;
}

void add_kept_runs_options(CLI::App& command, KeptRunsOptions& options) {
  CLI::Option* const store =
      command
          .add_option("--store", options.store,
                      "file that computed runs are kept in; where not given, one in the user's "
                      "folder for caches")
          ->type_name("FILE")
          ->check(not_empty());
  command.add_flag("--no-store", options.no_store, "keep no runs, and look none up")
      ->excludes(store);
}

KeptRuns::KeptRuns(std::unique_ptr<State> state) : state_(std::move(state)) {}
KeptRuns::KeptRuns(KeptRuns&&) noexcept = default;
KeptRuns& KeptRuns::operator=(KeptRuns&&) noexcept = default;
KeptRuns::~KeptRuns() = default;

std::optional<KeptRuns> KeptRuns::open(const KeptRunsOptions& options, int jobs) {
  JoinedJob joined = join_job();
  if (!joined.wrong.empty()) {
    warn(joined.wrong);
    return std::nullopt;
  }
  std::string wrong;
  std::optional<RunStore> store;
  if (joined.job == nullptr || joined.job->leads()) {
    store = open_store(options, wrong);
  }
  if (!wrong.empty()) {
    warn(wrong);
    if (joined.job != nullptr) {
      joined.job->abandon(exit_wrong_input);
    }
    return std::nullopt;
  }
  note_interruptions();
  return KeptRuns(
      std::make_unique<State>(RunKeeper(std::move(store), warn), std::move(joined.job), jobs));
}

RunSource KeptRuns::source() {
  State& state = *state_;
  const auto expect = [&state](std::size_t runs) { state.progress.expect(runs); };
  if (state.job == nullptr) {
    return kept_runs(state.keeper,
                     metered(interruptible(computed_runs(state.jobs), state.progress), state.spent),
                     batch_for(state.jobs), expect);
  }
  if (!state.job->leads()) {
    return state.job->following(computed_runs(state.jobs), interrupted);
  }
  return state.job->leading(
      state.keeper,
      {expect, [&state](std::size_t runs) { state.progress.done(runs); }, interrupted});
}

RunsSpent KeptRuns::spent() const {
  return state_->job == nullptr ? state_->spent : state_->job->spent();
}

void KeptRuns::clear_progress() const { state_->progress.clear(); }

bool KeptRuns::shared() const { return state_->job != nullptr; }

bool KeptRuns::speaks() const { return state_->job == nullptr || state_->job->leads(); }

int KeptRuns::say_stopped() {
  State& state = *state_;
  state.progress.clear();
  if (speaks()) {
    const std::string kept =
        state.keeper.keeps()
            ? fmt::format("{} finished runs are kept in {}; the same command goes on from there",
                          state.keeper.kept(), state.keeper.store()->path())
            : std::string("no runs were kept; the same command begins anew");
    warn(fmt::format("stopped{}: {}",
                     state.job == nullptr ? "" : ", or a process of the MPI job has ended", kept));
  }
  if (state.job != nullptr) {
    state.job->abandon(exit_fault);
  }
  end_as_interrupted();
  return exit_fault;
}

}  // namespace panup
