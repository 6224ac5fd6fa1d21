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
  asked_.notify_all();
  for (std::thread& thread : threads_) {
    thread.join();
  }
}

Reply Workers::reply_of(std::function<Reply()> work) {
  std::packaged_task<Reply()> task(std::move(work));
  std::future<Reply> reply = task.get_future();
  {
    const std::lock_guard lock(mutex_);
    waiting_.push_back(std::move(task));
  }
  asked_.notify_one();
  return reply.get();
}

void Workers::work() {
  std::unique_lock lock(mutex_);
  while (true) {
    asked_.wait(lock, [this] { return stopping_ || !waiting_.empty(); });
    if (waiting_.empty()) {
      return;
    }
    std::packaged_task<Reply()> task = std::move(waiting_.front());
    waiting_.pop_front();
    lock.unlock();
    task();
    lock.lock();
  }
}

}  // namespace panup
