#pragma once

#include <chrono>
#include <cstddef>
#include <string_view>

#include "quality/run_figures.h"

namespace panup {

/// Says on a terminal how many runs, or other things, are done and about how long the rest takes;
/// silent elsewhere.
class Progress {
 public:
  explicit Progress(std::string_view things = "runs");
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void expect(std::size_t number) { expected_ += number; }
  void done(std::size_t number);
  /// Takes its line off the terminal.
  void clear() const;

 private:
  std::string_view things_;
  bool terminal_;
  std::size_t expected_ = 0;
  std::size_t done_ = 0;
  std::chrono::steady_clock::time_point started_;
};

/// Runs of `source`, unless Ctrl-C was pressed.
RunSource interruptible(RunSource source, Progress& progress);

}  // namespace panup
