#pragma once

#include <mutex>
#include <semaphore>
#include <string>

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
  std::mutex writing;  ///< one writes to the library at a time
};

/// Answers a request; whatever it is, this does not throw.
Reply answer(Service& service, const ServiceRequest& request);

}  // namespace panup
