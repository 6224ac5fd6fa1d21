#pragma once

#include <optional>
#include <string>

#include "serve/job_work.h"
#include "serve/jobs.h"

namespace panup {

/// All kinds of job.
std::vector<std::string> job_kinds();

/// Reads a job's request, and sets it to work; what is wrong with its input is said at once. Runs
/// and answers are looked up and kept as `place` says.
Reply reply_to_job(const std::string& body, const WorkPlace& place, JobBoard& board);

Reply reply_to_jobs(JobBoard& board);
Reply reply_to_job_state(const std::string& id, JobBoard& board);
Reply reply_to_job_removal(const std::string& id, JobBoard& board);

nlohmann::ordered_json report_to_json(const JobReport& report);

}  // namespace panup
