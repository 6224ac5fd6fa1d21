#include <array>
#include <nlohmann/json.hpp>

#include "harness.h"
#include "serve/form_requests.h"
#include "serve/job_requests.h"
#include "serve/taking_in.h"

namespace {

panup::PlanningPlace demo_place() {
  std::string wrong;
  auto library = panup::open_library(PANUP_DATA_FOLDER "/demo", wrong);
  if (!library) {
    panup::fail("the demo scenario is not there");
  }
  return {.library = std::move(*library), .rules = {}, .jobs = 1, .program_version = "fuzzed"};
}

/// A good answer, or one that says what is wrong.
void require_answer(const panup::Reply& reply) {
  const auto body = nlohmann::json::parse(reply.body, nullptr, false);
  if (body.is_discarded()) {
    panup::fail("the reply is no JSON");
  }
  switch (reply.status) {
    case panup::status_done:
    case panup::status_accepted:
      return;
    case panup::status_malformed:
    case panup::status_mistakes:
      break;
    default:
      panup::fail("the reply has a status that is none of these");
  }
  if (!body.contains("error") || !body["diagnostics"].is_array() || body["diagnostics"].empty()) {
    panup::fail("the reply does not say what is wrong");
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const panup::PlanningPlace place = demo_place();
  const std::string body(data, data + size);
  require_answer(panup::reply_to_plan(body, place));
  require_answer(panup::reply_to_why(body, place));
  require_answer(panup::reply_to_train_reading(body, place));
  require_answer(panup::reply_to_train_writing(body, place));
  require_answer(panup::reply_to_taking_in(body, place));
  require_answer(panup::reply_to_form(body, place));
  panup::JobBoard nobody_works(std::vector<std::string>{});
  require_answer(panup::reply_to_job(body, {.planning = place, .answers = nullptr}, nobody_works));
  return 0;
}
