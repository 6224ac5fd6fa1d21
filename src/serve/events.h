#pragma once

#include <cstdint>
#include <string>

#include "serve/jobs.h"

namespace panup {

/// What happens to a job, as server-sent events: `progress` and at last `end` with the job's state,
/// and `cell` with a part of the result, whose event id counts the cells so far.
class EventStream {
 public:
  /// Begins after the first `cells_seen` cells.
  EventStream(JobBoard& jobs, std::string id, std::size_t cells_seen)
      : jobs_(jobs), id_(std::move(id)), cells_seen_(cells_seen) {}

  /// The next events; empty where nothing happened.
  std::string next();
  /// Nothing follows.
  bool ended() const { return over_; }

 private:
  JobBoard& jobs_;
  std::string id_;
  std::size_t cells_seen_;
  std::uint64_t version_ = 0;
  std::string told_;  ///< the last state
  bool over_ = false;
};

/// The number of cells that the header Last-Event-ID says have been seen; 0 where it says nothing.
std::size_t cells_seen_by(const std::string& last_event_id);

}  // namespace panup
