#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <future>
#include <mutex>
#include <thread>
#include <vector>

#include "serve/reply.h"

namespace panup {

/// A few threads that answer requests, in the order they came, for many connections. What drawing
/// and planning keep by thread, fonts above all, is then kept a few times and not by connection.
class Workers {
 public:
  explicit Workers(std::size_t number);
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  /// Waits for the reply. The work does not throw.
  Reply reply_of(std::function<Reply()> work);

 private:
  void work();

  std::mutex mutex_;
  std::condition_variable asked_;
  std::deque<std::packaged_task<Reply()>> waiting_;
  bool stopping_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace panup
