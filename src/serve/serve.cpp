#include "serve/serve.h"

#include <fmt/format.h>

#include <thread>

#include "requests/plan_input.h"
#include "serve/day_work.h"
#include "serve/http_server.h"
#include "serve/job_requests.h"
#include "serve/service.h"

namespace panup {

namespace {

constexpr auto between_looks = std::chrono::milliseconds(50);
constexpr int looks_for_streams = 20;

}  // namespace

void serve(const ServeSettings& settings, const std::function<void(const ServeAddress&)>& listening,
           const std::function<bool()>& stopped, Diagnostics& mistakes) {
  std::string wrong;
  const auto library = open_library(settings.library, wrong);
  if (!library) {
    mistakes.push_back({{.file = settings.library}, "there is no such folder"});
    return;
  }
  read_rule_books(settings.rules, std::nullopt, mistakes);
  if (!mistakes.empty()) {
    return;
  }
  JobBoard jobs(job_kinds());
  Service service{.place = {.library = *library,
                            .rules = settings.rules,
                            .store = settings.store,
                            .jobs = settings.jobs,
                            .program_version = settings.program_version},
                  .answers = open_answers(settings.store, settings.warn),
                  .cards = settings.issued_cards,
                  .jobs = &jobs};
  HttpServer server(service, settings.limits);
  const int port = server.listen(settings.port);
  if (port == 0) {
    mistakes.push_back({{.file = fmt::format("port {}", settings.port)},
                        "it cannot be listened on; another program may have it: name another with "
                        "--port, or 0 for a free one"});
    return;
  }
  listening({.address = fmt::format("http://127.0.0.1:{}/", port),
             .port = port,
             .library = service.place.library.folder.string()});
  while (!stopped()) {
    std::this_thread::sleep_for(between_looks);
  }
  jobs.stop();
  // The last event of each stream is still on its way.
  for (int looks = 0; server.open_streams() > 0 && looks < looks_for_streams; ++looks) {
    std::this_thread::sleep_for(between_looks);
  }
}

}  // namespace panup
