#include <fmt/format.h>
#include <httplib.h>
#include <sys/socket.h>

#include <atomic>
#include <chrono>
#include <thread>

#include "requests/plan_input.h"
#include "serve/events.h"
#include "serve/job_requests.h"
#include "serve/serve.h"
#include "serve/service.h"
#include "serve/workers.h"

namespace panup {

namespace {

constexpr std::size_t connections = 80;  ///< at once, each with a thread; others wait
constexpr int backlog = 128;
/// Requests with a body that are worked on at once: each may take the memory of a plan.
constexpr std::size_t most_at_work = 4;
/// A body that is too large is read past, so that its sender hears of it; up to so much.
constexpr std::uint64_t most_read_past = 64'000'000;
constexpr int silence_s = 3;  ///< a connection that asks nothing for so long is closed
constexpr int read_timeout_s = 5;
constexpr int write_timeout_s = 20;
constexpr auto between_looks = std::chrono::milliseconds(50);
constexpr int looks_for_streams = 20;

/// A page of another site may send requests here, and its name may lead here; it is not to get an
/// answer.
bool is_of_this_page(const httplib::Request& request, int port) {
  const std::string by_number = fmt::format("127.0.0.1:{}", port);
  const std::string by_name = fmt::format("localhost:{}", port);
  const auto is_here = [&](const std::string& host) {
    return host == by_number || host == by_name;
  };
  if (request.get_header_value_count("Host") != 1 || !is_here(request.get_header_value("Host"))) {
    return false;
  }
  if (!request.has_header("Origin")) {
    return true;
  }
  const std::string origin = request.get_header_value("Origin");
  constexpr std::string_view scheme = "http://";
  return request.get_header_value_count("Origin") == 1 && origin.starts_with(scheme) &&
         is_here(origin.substr(scheme.size()));
}

/// By a provider, for what is handed over whole the library may compress, which takes long.
void send(httplib::Response& response, Reply reply) {
  response.status = reply.status;
  for (auto& [name, value] : reply.headers) {
    response.set_header(name, value);
  }
  if (reply.body.empty()) {
    return;
  }
  auto body = std::make_shared<std::string>(std::move(reply.body));
  response.set_content_provider(
      body->size(), reply.type,
      [body](std::size_t at, std::size_t length, httplib::DataSink& sink) {
        return sink.write(body->data() + at, std::min(length, body->size() - at));
      });
}

/// Streams of events that are open. Each keeps a thread, and the others are for requests.
using Streams = std::atomic<int>;
constexpr int most_streams = 24;

/// Counts one for as long as it lives.
class OpenStream {
 public:
  explicit OpenStream(Streams& streams) : streams_(streams) { ++streams_; }
  ~OpenStream() { --streams_; }
  OpenStream(const OpenStream&) = delete;
  OpenStream& operator=(const OpenStream&) = delete;

 private:
  Streams& streams_;
};

void send_events(const httplib::Request& request, httplib::Response& response,
                 const std::string& id, JobBoard& jobs, Streams& streams) {
  if (request.method != "GET" || !jobs.report(id)) {
    send(response, request.method == "GET"
                       ? error_reply(status_not_found, "there is no such job")
                       : error_reply(status_wrong_method, "events are only read"));
    return;
  }
  auto open = std::make_shared<OpenStream>(streams);
  if (streams > most_streams) {
    send(response, error_reply(status_too_many, "too many streams of events are open"));
    return;
  }
  auto stream = std::make_shared<EventStream>(
      jobs, id, cells_seen_by(request.get_header_value("Last-Event-ID")));
  response.status = status_done;
  response.set_header("Cache-Control", "no-store");
  response.set_chunked_content_provider(
      "text/event-stream", [stream, open](std::size_t /*at*/, httplib::DataSink& sink) {
        const std::string text = stream->next();
        if (!text.empty() && !sink.write(text.data(), text.size())) {
          return false;
        }
        if (stream->ended()) {
          sink.done();
        }
        return true;
      });
}

ServiceRequest service_request(const httplib::Request& request) {
  return {.method = request.method,
          .path = request.path,
          .file = request.get_param_value("path"),
          .body = request.body,
          .if_none_match = request.get_header_value("If-None-Match")};
}

bool is_json(const httplib::Request& request) {
  const std::string type = request.get_header_value("Content-Type");
  return type.substr(0, type.find(';')) == "application/json";
}

Reply too_large() {
  return error_reply(status_too_large, fmt::format("the request is larger than {} MB",
                                                   greatest_body_bytes / 1'000'000));
}

void set_rules_of_the_house(httplib::Server& server) {
  server.set_default_headers(
      {{"Content-Security-Policy",
        "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
        "object-src 'none'; frame-ancestors 'none'"},
       {"X-Content-Type-Options", "nosniff"},
       {"Referrer-Policy", "no-referrer"}});
  server.set_payload_max_length(greatest_body_bytes);
  // A connection that is kept open keeps a thread from others.
  server.set_keep_alive_max_count(1);
  server.set_keep_alive_timeout(silence_s);
  server.set_read_timeout(read_timeout_s);
  server.set_write_timeout(write_timeout_s);
  server.set_tcp_nodelay(true);
  server.new_task_queue = [] { return new httplib::ThreadPool(connections); };
}

void set_handlers(httplib::Server& server, Service& service, Workers& workers, Streams& streams,
                  const std::atomic<int>& port) {
  using Handled = httplib::Server::HandlerResponse;
  server.set_pre_routing_handler([&](const httplib::Request& request, httplib::Response& response) {
    if (!is_of_this_page(request, port)) {
      send(response,
           error_reply(status_refused,
                       "this server answers its own page alone: Host or Origin is another"));
      return Handled::Handled;
    }
    const bool has_body = request.method == "POST" || request.method == "PUT";
    if (has_body && !is_json(request)) {
      send(response, error_reply(status_wrong_type, "expected Content-Type: application/json"));
      return Handled::Handled;
    }
    if (has_body && request.get_header_value<std::uint64_t>("Content-Length") > most_read_past) {
      send(response, too_large());
      return Handled::Handled;
    }
    if (has_body) {
      return Handled::Unhandled;
    }
    if (const std::string id = job_in_path(request.path, "/events"); !id.empty()) {
      send_events(request, response, id, *service.jobs, streams);
    } else {
      send(response, answer(service, service_request(request)));
    }
    return Handled::Handled;
  });
  const auto with_body = [&](const httplib::Request& request, httplib::Response& response) {
    send(response, workers.reply_of([&] { return answer(service, service_request(request)); }));
  };
  // The path is looked at by the service: a pattern of any length would take stack by length.
  server.Post(".{1,200}", with_body);
  server.Put(".{1,200}", with_body);
  server.set_error_handler([](const httplib::Request& /*request*/, httplib::Response& response) {
    if (response.body.empty() && response.content_length_ == 0) {
      const int status = response.status;
      send(response, status == status_too_large
                         ? too_large()
                         : error_reply(status, "the request cannot be answered"));
    }
  });
  server.set_exception_handler([](const httplib::Request& /*request*/, httplib::Response& response,
                                  const std::exception_ptr& /*error*/) {
    send(response, error_reply(status_fault, "a fault of the program"));
  });
}

/// Listens on this machine alone. The port, or 0.
int listen_on(httplib::Server& server, int port) {
  int listening = -1;
  server.set_socket_options([&listening](int socket) {
    // Not SO_REUSEPORT, with which a second server would take half of the first one's requests.
    const int yes = 1;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    listening = socket;
  });
  constexpr auto here = "127.0.0.1";
  const int bound = port == 0                         ? server.bind_to_any_port(here)
                    : server.bind_to_port(here, port) ? port
                                                      : 0;
  if (bound <= 0) {
    return 0;
  }
  ::listen(listening, backlog);  // the library lets few wait
  return bound;
}

}  // namespace

void serve(const ServeSettings& settings, const std::function<void(const ServeAddress&)>& listening,
           const std::function<bool()>& stopped, Diagnostics& mistakes) {
  std::string wrong;
  const auto library = open_library(settings.library, wrong);
  if (!library) {
    mistakes.push_back({{.file = settings.library}, "there is no such folder"});
    return;
  }
  read_rule_books(settings.rules, mistakes);
  if (!mistakes.empty()) {
    return;
  }
  JobBoard jobs(job_kinds());
  Service service{.place = {.library = *library,
                            .rules = settings.rules,
                            .jobs = settings.jobs,
                            .program_version = settings.program_version},
                  .store = settings.store,
                  .jobs = &jobs};
  Workers workers(most_at_work);
  Streams streams = 0;
  std::atomic<int> port = 0;
  httplib::Server server;
  set_rules_of_the_house(server);
  set_handlers(server, service, workers, streams, port);
  port = listen_on(server, settings.port);
  if (port == 0) {
    mistakes.push_back({{.file = fmt::format("port {}", settings.port)},
                        "it cannot be listened on; another program may have it: name another with "
                        "--port, or 0 for a free one"});
    return;
  }
  std::atomic<bool> answers = true;
  std::thread answering([&] {
    server.listen_after_bind();
    answers = false;
  });
  // Before it runs, it cannot be stopped.
  while (answers && !server.is_running()) {
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  listening({.address = fmt::format("http://127.0.0.1:{}/", port.load()),
             .port = port,
             .library = service.place.library.folder.string()});
  while (answers && !stopped()) {
    std::this_thread::sleep_for(between_looks);
  }
  jobs.stop();
  // The last event of each stream is still on its way.
  for (int looks = 0; streams > 0 && looks < looks_for_streams; ++looks) {
    std::this_thread::sleep_for(between_looks);
  }
  server.stop();
  answering.join();
}

}  // namespace panup
