#include "serve/workers.h"

namespace panup {

Workers::Workers(std::size_t number) {
  for (std::size_t i = 0; i < number; ++i) {
    threads_.emplace_back([this] { work(); });
  }
}

Workers::~Workers() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
  }
  added_.notify_all();
  for (std::thread& thread : threads_) {
    thread.join();
  }
}

void Workers::add(std::function<void()> work) {
  {
    const std::lock_guard lock(mutex_);
    waiting_.push_back(std::move(work));
  }
  added_.notify_one();
}

void Workers::work() {
  std::unique_lock lock(mutex_);
  while (true) {
    added_.wait(lock, [this] { return stopping_ || !waiting_.empty(); });
    if (waiting_.empty()) {
      return;
    }
    const std::function<void()> work = std::move(waiting_.front());
    waiting_.pop_front();
    lock.unlock();
    work();
    lock.lock();
  }
}

}  // namespace panup
