#pragma once

#include <chrono>
#include <cstddef>
#include <memory>

#include "serve/serve.h"
#include "serve/service.h"

namespace panup {

/// Connections over loopback, each of one request and its reply. One thread looks after all of them
/// and never waits for one; the work for an answer is done by others. Where there are too many
/// connections, the one goes that has kept the server waiting for longest.
class HttpServer {
 public:
  /// The service must outlive it.
  HttpServer(Service& service, const ConnectionLimits& limits);
  /// Ends all connections; what is being worked on is stopped.
  ~HttpServer();
  HttpServer(const HttpServer&) = delete;
  HttpServer& operator=(const HttpServer&) = delete;

  /// Begins to listen on 127.0.0.1, at a free port where `port` is 0. The port, or 0 where it
  /// cannot be had. Once.
  int listen(int port);

  /// Streams of events that are open.
  std::size_t open_streams() const;

 private:
  class Connections;
  std::unique_ptr<Connections> connections_;
};

}  // namespace panup
