#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "day/kept_answers.h"
#include "serve/issue_requests.h"
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
  std::string last_event_id = {};
  /// Whether nobody waits for the answer any more; asked from many threads. May be empty.
  std::function<bool()> stopped = {};
};

/// All that requests are answered from. For many threads.
struct Service {
  PlanningPlace place;
  std::shared_ptr<KeptAnswers> answers = {};  ///< of the trains of days; null: none are kept
  std::shared_ptr<CardRegister> cards = {};   ///< null: the page issues none
  JobBoard* jobs = nullptr;
  std::mutex writing = {};  ///< one writes to the library at a time
};

/// The id in the path of a job, "/api/jobs/ID" and what is added to it; empty where it is another.
std::string job_in_path(std::string_view path, std::string_view added = {});

/// Whether a request of this method may have a body.
bool takes_body(std::string_view method);

/// What can be said against a request before its body is there: that there is nothing under its
/// path, or nothing for its method.
std::optional<Reply> refusal_of(std::string_view method, std::string_view path);

/// Answers a request that is not refused; whatever it is, this does not throw.
Reply answer(Service& service, const ServiceRequest& request);

}  // namespace panup
