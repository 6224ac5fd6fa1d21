#pragma once

#include <cstdint>
#include <string>

#include "serve/jobs.h"

namespace panup {

/// What happens to a job, as server-sent events: `progress` and at last `end` with the job's state,
/// and parts of the result by their names, whose event ids count them.
class EventStream {
 public:
  /// Begins after the first `parts_seen` parts.
  EventStream(JobBoard& jobs, std::string id, std::size_t parts_seen)
      : jobs_(jobs), id_(std::move(id)), parts_seen_(parts_seen) {}

  /// The next events; empty where nothing happened.
  std::string next();
  /// Nothing follows.
  bool ended() const { return over_; }

 private:
  JobBoard& jobs_;
  std::string id_;
  std::size_t parts_seen_;
  std::uint64_t version_ = 0;
  std::string told_;  ///< the last state
  bool over_ = false;
};

/// The number of parts that the header Last-Event-ID says have been seen; 0 where it says nothing.
std::size_t parts_seen_by(const std::string& last_event_id);

}  // namespace panup
