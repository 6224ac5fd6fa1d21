#pragma once

#include <mutex>
#include <optional>
#include <string>

#include "serve/jobs.h"
#include "serve/plan_requests.h"
#include "serve/serve.h"

namespace panup {

/// A request, as far as it decides the answer.
struct ServiceRequest {
  std::string method;
  std::string path;
  std::string file = {};  ///< the query's `path`
  std::string body = {};
  std::string if_none_match = {};
};

/// All that requests are answered from. For many threads.
struct Service {
  PlanningPlace place;
  std::optional<std::string> store;  ///< file of kept runs
  JobBoard* jobs = nullptr;
  std::mutex writing = {};  ///< one writes to the library at a time
};

/// The id in the path of a job, "/api/jobs/ID" and what is added to it; empty where it is another.
std::string job_in_path(std::string_view path, std::string_view added = {});

/// Answers a request; whatever it is, this does not throw.
Reply answer(Service& service, const ServiceRequest& request);

}  // namespace panup
