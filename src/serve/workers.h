#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace panup {

/// A few threads that do what they are given, in the order it came, for many connections. What
/// drawing and planning keep by thread, fonts above all, is then kept a few times and not by
/// connection.
class Workers {
 public:
  explicit Workers(std::size_t number);
  /// Waits until all is done.
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  /// The work does not throw.
  void add(std::function<void()> work);

 private:
  void work();

  std::mutex mutex_;
  std::condition_variable added_;
  std::deque<std::function<void()>> waiting_;
  bool stopping_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace panup
