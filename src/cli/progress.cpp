#include "cli/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "cli/interruption.h"
#include "cli/say.h"

namespace panup {

namespace {

std::string time_left_words(double seconds) {
  const long whole = std::lround(seconds);
  return whole < 90 ? fmt::format("{} s", whole) : fmt::format("{} min", (whole + 30) / 60);
}

}  // namespace

Progress::Progress(std::string_view things)
    : things_(things),
      terminal_(::isatty(STDERR_FILENO) == 1),
      started_(std::chrono::steady_clock::now()) {}

Progress::~Progress() { clear(); }

void Progress::clear() const {
  if (terminal_ && done_ > 0) {
    say("\r\033[K");
  }
}

void Progress::done(std::size_t number) {
  done_ += number;
  if (!terminal_) {
    return;
  }
  const std::chrono::duration<double> since = std::chrono::steady_clock::now() - started_;
  const auto left = static_cast<double>(expected_ - std::min(expected_, done_));
  say("\r\033[K{} of {} {}, about {} left", done_, std::max(expected_, done_), things_,
      time_left_words(since.count() / static_cast<double>(done_) * left));
  static_cast<void>(std::fflush(stderr));
}

RunSource interruptible(RunSource source, Progress& progress) {
  return [source = std::move(source), &progress](const std::vector<SimulationRequest>& requests)
             -> std::optional<std::vector<RunFigures>> {
    if (interrupted()) {
      return std::nullopt;
    }
    auto figures = source(requests);
    if (figures) {
      progress.done(requests.size());
    }
    return figures;
  };
}

}  // namespace panup
