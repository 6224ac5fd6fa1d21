#include "serve/http_server.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <set>
#include <thread>

#include "serve/events.h"
#include "serve/http_message.h"
#include "serve/workers.h"

namespace panup {

namespace {

namespace asio = boost::asio;
using Error = boost::system::error_code;
using Tcp = asio::ip::tcp;
using Clock = std::chrono::steady_clock;

constexpr std::size_t bytes_at_once = 16'384;
constexpr int backlog = 128;
/// Requests with a body that are worked on at once: each may take the memory of a plan.
constexpr std::size_t most_at_work = 4;
/// Others, for which the former are not to wait.
constexpr std::size_t most_small_at_work = 2;
/// After a reply, what its client still sends is read past, for closing at once could take the
/// reply from it; up to so much, and for so long.
constexpr std::size_t most_read_past = 64'000'000;
constexpr std::chrono::milliseconds for_the_end{2'000};
/// A stream of which there is nothing to tell says so, by which a client that has gone is noticed.
constexpr std::chrono::milliseconds between_comments{10'000};
constexpr std::chrono::milliseconds before_accepting_again{100};

}  // namespace

class HttpServer::Connections {
 public:
  Connections(Service& service, const ConnectionLimits& limits);
  ~Connections();
  Connections(const Connections&) = delete;
  Connections& operator=(const Connections&) = delete;

  int listen(int port);
  std::size_t open_streams() const { return streams_; }

 private:
  class Connection;
  using ConnectionPtr = std::shared_ptr<Connection>;

  void run();
  void accept();
  void make_room(const ConnectionPtr& newest);
  void accepted(Tcp::socket socket);
  void forget(const ConnectionPtr& connection);
  void tell_streams();

  Service& service_;
  ConnectionLimits limits_;
  int port_ = 0;
  asio::io_context context_{1};
  Tcp::acceptor acceptor_{context_};
  asio::steady_timer accepting_again_{context_};
  std::set<ConnectionPtr> open_;
  bool accepting_ = false;
  std::size_t bytes_in_hand_ = 0;
  std::atomic<std::size_t> streams_ = 0;
  std::atomic<bool> telling_ = false;
  std::unique_ptr<Workers> small_workers_;
  std::unique_ptr<Workers> workers_;
  std::thread thread_;
};

/// One connection. What it does, it does on the thread of the server. A handler that is left over
/// keeps it alive, and finds it closed.
class HttpServer::Connections::Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(Connections& server, Tcp::socket socket)
      : server_(server),
        socket_(std::move(socket)),
        timer_(server.context_),
        reader_(server.port_),
        stopped_(std::make_shared<std::atomic<bool>>(false)) {}

  void begin() {
    expire_after(server_.limits_.for_head);
    read();
  }

  /// The server waits for the client.
  bool is_awaited() const { return phase_ != Phase::at_work && phase_ != Phase::stream; }
  Clock::time_point awaited_since() const { return phase_since_; }

  void close() {
    if (phase_ == Phase::closed) {
      return;
    }
    enter(Phase::closed);
    *stopped_ = true;
    release_bytes();
    if (events_) {
      events_.reset();
      --server_.streams_;
    }
    timer_.cancel();
    Error ignored;
    socket_.close(ignored);
    server_.forget(shared_from_this());
  }

  /// There may be news for a stream.
  void tell() {
    if (phase_ != Phase::stream || writing_) {
      return;
    }
    std::string text = events_->next();
    if (text.empty() && !events_->ended()) {
      return;
    }
    write_event(std::move(text));
  }

 private:
  enum class Phase : std::uint8_t { head, body, at_work, reply, stream, the_end, closed };

  void enter(Phase phase) {
    phase_ = phase;
    phase_since_ = Clock::now();
  }

  void release_bytes() {
    server_.bytes_in_hand_ -= bytes_in_hand_;
    bytes_in_hand_ = 0;
  }

  template <typename Duration>
  void expire_after(Duration duration) {
    timer_.expires_after(duration);
    timer_.async_wait([self = shared_from_this()](const Error& error) {
      // It may have been set anew when it had run out already.
      if (!error && self->timer_.expiry() <= Clock::now()) {
        self->expired();
      }
    });
  }

  void expired() {
    if (phase_ == Phase::at_work) {
      return;
    }
    if (phase_ == Phase::stream && !writing_) {
      write_event(": waiting\n\n");
    } else if ((phase_ == Phase::head && reader_.has_begun()) || phase_ == Phase::body) {
      reply(error_reply(status_timeout, "the request has not come in time"));
    } else {
      close();
    }
  }

  /// Reads for as long as the connection is open: so it is noticed when the client goes.
  void read() {
    socket_.async_read_some(asio::buffer(bytes_),
                            [self = shared_from_this()](const Error& error, std::size_t count) {
                              self->came(error, count);
                            });
  }

  void came(const Error& error, std::size_t count) {
    if (phase_ == Phase::closed) {
      return;
    }
    if (error) {
      // While a reply is on its way, it may be that the client only has nothing more to say.
      client_has_ended_ = true;
      if (phase_ != Phase::reply) {
        close();
      }
      return;
    }
    if (phase_ == Phase::head || phase_ == Phase::body) {
      take(count);
    } else {
      read_past_ += count;
    }
    if (read_past_ > most_read_past) {
      close();
    } else if (phase_ != Phase::closed) {
      read();
    }
  }

  void take(std::size_t count) {
    reader_.take({bytes_.data(), count});
    bytes_in_hand_ += count;
    server_.bytes_in_hand_ += count;
    switch (reader_.state()) {
      case RequestReader::State::in_head:
        break;
      case RequestReader::State::in_body:
        if (phase_ == Phase::head) {
          enter(Phase::body);
          expire_after(server_.limits_.for_body);
          if (reader_.awaits_go_ahead()) {
            go_ahead();
          }
        }
        if (server_.bytes_in_hand_ > server_.limits_.bytes_in_hand) {
          reply(error_reply(status_busy, "too many large requests at once: try again"));
        }
        break;
      case RequestReader::State::whole:
        answer_request();
        break;
      case RequestReader::State::refused:
        reply(std::move(reader_.refusal()));
        break;
    }
  }

  void go_ahead() {
    static constexpr std::string_view text = "HTTP/1.1 100 Continue\r\n\r\n";
    // So short that it goes out at once; where it does not, the client sends without it.
    Error ignored;
    socket_.non_blocking(true, ignored);
    socket_.write_some(asio::buffer(text), ignored);
  }

  void answer_request() {
    timer_.cancel();
    ServiceRequest& request = reader_.request();
    if (const std::string id = job_in_path(request.path, "/events"); !id.empty()) {
      begin_stream(id, request.last_event_id);
      return;
    }
    enter(Phase::at_work);
    request.stopped = [stopped = stopped_] { return stopped->load(); };
    auto& workers = takes_body(request.method) ? server_.workers_ : server_.small_workers_;
    workers->add([self = shared_from_this(), &server = server_,
                  request = std::make_shared<ServiceRequest>(std::move(request))] {
      if (*self->stopped_) {
        return;
      }
      auto answered = std::make_shared<Reply>(answer(server.service_, *request));
      asio::post(server.context_, [self, answered] {
        if (self->phase_ == Phase::at_work) {
          self->reply(std::move(*answered));
        }
      });
    });
  }

  void reply(Reply reply) {
    release_bytes();
    enter(Phase::reply);
    expire_after(server_.limits_.for_reply);
    head_ = head_of(reply);
    body_ = reader_.is_head_request() ? std::string() : std::move(reply.body);
    const std::array buffers{asio::buffer(head_), asio::buffer(body_)};
    asio::async_write(
        socket_, buffers,
        [self = shared_from_this()](const Error& error, std::size_t) { self->replied(error); });
  }

  void replied(const Error& error) {
    if (phase_ == Phase::closed) {
      return;
    }
    Error not_sent;
    socket_.shutdown(Tcp::socket::shutdown_send, not_sent);
    if (error || not_sent || client_has_ended_) {
      close();
      return;
    }
    body_ = {};
    enter(Phase::the_end);
    expire_after(for_the_end);
  }

  void begin_stream(const std::string& id, const std::string& last_event_id) {
    JobBoard& jobs = *server_.service_.jobs;
    if (!jobs.report(id)) {
      reply(error_reply(status_not_found, "there is no such job"));
      return;
    }
    if (server_.streams_ >= server_.limits_.streams) {
      reply(error_reply(status_too_many, "too many streams of events are open"));
      return;
    }
    ++server_.streams_;
    events_.emplace(jobs, id, parts_seen_by(last_event_id));
    enter(Phase::stream);
    write_event(head_of({.type = "text/event-stream"}, BodyLength::until_the_end));
  }

  void write_event(std::string text) {
    writing_ = true;
    expire_after(server_.limits_.for_reply);
    body_ = std::move(text);
    asio::async_write(socket_, asio::buffer(body_),
                      [self = shared_from_this()](const Error& error, std::size_t) {
                        self->event_written(error);
                      });
  }

  void event_written(const Error& error) {
    writing_ = false;
    if (phase_ == Phase::closed) {
      return;
    }
    if (error) {
      close();
      return;
    }
    if (events_->ended()) {
      events_.reset();
      --server_.streams_;
      replied({});
      return;
    }
    expire_after(between_comments);
    tell();
  }

  Connections& server_;
  Tcp::socket socket_;
  asio::steady_timer timer_;
  RequestReader reader_;
  std::array<char, bytes_at_once> bytes_{};
  Phase phase_ = Phase::head;
  Clock::time_point phase_since_ = Clock::now();
  std::size_t bytes_in_hand_ = 0;
  std::size_t read_past_ = 0;
  bool client_has_ended_ = false;
  std::string head_;
  std::string body_;
  std::optional<EventStream> events_;
  bool writing_ = false;
  /// Nobody waits for the answer any more. Read by who works on it.
  std::shared_ptr<std::atomic<bool>> stopped_;
};

HttpServer::Connections::Connections(Service& service, const ConnectionLimits& limits)
    : service_(service),
      limits_(limits),
      small_workers_(std::make_unique<Workers>(most_small_at_work)),
      workers_(std::make_unique<Workers>(most_at_work)) {
  service_.jobs->tell([this] {
    if (!telling_.exchange(true)) {
      asio::post(context_, [this] { tell_streams(); });
    }
  });
}

HttpServer::Connections::~Connections() {
  service_.jobs->tell({});
  if (thread_.joinable()) {
    asio::post(context_, [this] {
      Error ignored;
      acceptor_.close(ignored);
      const std::set<ConnectionPtr> open = open_;
      for (const ConnectionPtr& connection : open) {
        connection->close();
      }
      context_.stop();
    });
    thread_.join();
  }
  // They hold connections, and hand their answers to the context: both last until they have ended.
  workers_.reset();
  small_workers_.reset();
}

int HttpServer::Connections::listen(int port) {
  const Tcp::endpoint here(asio::ip::address_v4::loopback(), static_cast<std::uint16_t>(port));
  Error error;
  acceptor_.open(here.protocol(), error);
  // Not SO_REUSEPORT, with which a second server would take half of the first one's requests.
  if (!error) {
    acceptor_.set_option(Tcp::acceptor::reuse_address(true), error);
  }
  if (!error) {
    acceptor_.bind(here, error);
  }
  if (!error) {
    acceptor_.listen(backlog, error);
  }
  if (error) {
    return 0;
  }
  port_ = acceptor_.local_endpoint(error).port();
  asio::post(context_, [this] { accept(); });
  thread_ = std::thread([this] { run(); });
  return port_;
}

void HttpServer::Connections::run() {
  const auto work = asio::make_work_guard(context_);
  while (!context_.stopped()) {
    try {
      context_.run();
    } catch (const std::exception&) {
      // Too little memory for one connection; its time runs out.
    }
  }
}

void HttpServer::Connections::accept() {
  if (accepting_ || !acceptor_.is_open() || open_.size() >= limits_.connections) {
    return;
  }
  accepting_ = true;
  acceptor_.async_accept([this](const Error& error, Tcp::socket socket) {
    accepting_ = false;
    if (!error) {
      accepted(std::move(socket));
      return;
    }
    if (error == asio::error::operation_aborted) {
      return;
    }
    // Such as no file descriptor being left.
    accepting_again_.expires_after(before_accepting_again);
    accepting_again_.async_wait([this](const Error& /*cancelled*/) { accept(); });
  });
}

void HttpServer::Connections::accepted(Tcp::socket socket) {
  Error ignored;
  socket.set_option(Tcp::no_delay(true), ignored);
  const auto connection = std::make_shared<Connection>(*this, std::move(socket));
  open_.insert(connection);
  connection->begin();
  make_room(connection);
  accept();
}

/// For the next one, after the newest: where all others wait for answers, it has to wait as well.
void HttpServer::Connections::make_room(const ConnectionPtr& newest) {
  if (open_.size() < limits_.connections) {
    return;
  }
  ConnectionPtr longest;
  for (const ConnectionPtr& connection : open_) {
    if (connection != newest && connection->is_awaited() &&
        (longest == nullptr || connection->awaited_since() < longest->awaited_since())) {
      longest = connection;
    }
  }
  if (longest != nullptr) {
    longest->close();
  }
}

void HttpServer::Connections::forget(const ConnectionPtr& connection) {
  open_.erase(connection);
  accept();
}

void HttpServer::Connections::tell_streams() {
  telling_ = false;
  const std::set<ConnectionPtr> open = open_;
  for (const ConnectionPtr& connection : open) {
    connection->tell();
  }
}

HttpServer::HttpServer(Service& service, const ConnectionLimits& limits)
    : connections_(std::make_unique<Connections>(service, limits)) {}

HttpServer::~HttpServer() = default;

int HttpServer::listen(int port) { return connections_->listen(port); }

std::size_t HttpServer::open_streams() const { return connections_->open_streams(); }

}  // namespace panup
