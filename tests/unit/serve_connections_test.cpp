#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <future>
#include <nlohmann/json.hpp>
#include <thread>

#include "serve/request_json.h"
#include "serve/serve.h"

namespace panup {
namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

/// Of this process, the server included.
double cpu_seconds() {
  rusage usage{};
  ::getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

/// A client that sends what it likes.
class Client {
 public:
  explicit Client(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    connected_ = ::connect(socket_, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0;
  }
  ~Client() { go(); }
  Client(Client&& other) noexcept : socket_(std::exchange(other.socket_, -1)) {}
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;
  Client& operator=(Client&&) = delete;

  bool connected() const { return connected_; }
  void go() {
    if (socket_ >= 0) {
      ::close(socket_);
      socket_ = -1;
    }
  }
  /// False once the server takes no more.
  bool send(std::string_view bytes) const {
    while (!bytes.empty()) {
      const ssize_t sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
      if (sent <= 0) {
        return false;
      }
      bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return true;
  }
  /// All that comes until the server closes, or for so long.
  std::string answer(milliseconds wait = milliseconds(20'000)) const {
    std::string bytes;
    const auto end = Clock::now() + wait;
    std::array<char, 65'536> part{};
    while (Clock::now() < end) {
      pollfd readable{.fd = socket_, .events = POLLIN, .revents = 0};
      const auto left = std::chrono::duration_cast<milliseconds>(end - Clock::now()).count();
      if (::poll(&readable, 1, static_cast<int>(std::max<long>(left, 0))) <= 0) {
        break;
      }
      const ssize_t count = ::recv(socket_, part.data(), part.size(), 0);
      if (count <= 0) {
        break;
      }
      bytes.append(part.data(), static_cast<std::size_t>(count));
    }
    return bytes;
  }

 private:
  int socket_;
  bool connected_ = false;
};

/// A reply taken apart.
struct ServerAnswer {
  int status = 0;
  std::string head;
  std::string body;
};

ServerAnswer taken_apart(const std::string& bytes) {
  ServerAnswer answer;
  const std::size_t end = bytes.find("\r\n\r\n");
  if (end == std::string::npos || !bytes.starts_with("HTTP/1.1 ")) {
    return answer;
  }
  answer.status = std::stoi(bytes.substr(9, 3));
  answer.head = bytes.substr(0, end + 2);
  answer.body = bytes.substr(end + 4);
  return answer;
}

std::string length_line(const ServerAnswer& answer) {
  return "\r\nContent-Length: " + std::to_string(answer.body.size()) + "\r\n";
}

/// A server in this process, on the demo scenario.
class Connections : public testing::Test {
 protected:
  void serve_with(const ConnectionLimits& limits) {
    settings_.library = PANUP_DATA_FOLDER "/demo";
    settings_.port = 0;
    settings_.jobs = 1;
    settings_.limits = limits;
    std::promise<int> port;
    thread_ = std::thread([this, &port] {
      Diagnostics mistakes;
      serve(
          settings_, [&](const ServeAddress& address) { port.set_value(address.port); },
          [this] { return stop_.load(); }, mistakes);
    });
    port_ = port.get_future().get();
    here_ = "Host: 127.0.0.1:" + std::to_string(port_) + "\r\n";
    json_ = here_ + "Content-Type: application/json\r\n";
  }
  void SetUp() override { serve_with({}); }
  void TearDown() override {
    if (thread_.joinable()) {
      // Whatever was done to it, it still answers, does nothing, and ends soon.
      EXPECT_EQ(ask(get("/api/library")).status, 200);
      EXPECT_TRUE(idle_within(10));
      expect_to_end_soon();
    }
  }
  void expect_to_end_soon() {
    const auto begin = Clock::now();
    stop_ = true;
    thread_.join();
    EXPECT_LT(seconds_since(begin), 10);
  }

  ServerAnswer ask(const std::string& bytes) const {
    const Client client(port_);
    client.send(bytes);
    return taken_apart(client.answer());
  }
  std::string get(const std::string& path, const std::string& headers = {}) const {
    return "GET " + path + " HTTP/1.1\r\n" + here_ + headers + "\r\n";
  }
  std::string post(const std::string& path, const std::string& body) const {
    return "POST " + path + " HTTP/1.1\r\n" + json_ +
           "Content-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body;
  }

  /// Whether no more work is done, at the latest after so many seconds.
  static bool idle_within(double seconds) {
    const auto begin = Clock::now();
    while (seconds_since(begin) < seconds) {
      const double before = cpu_seconds();
      std::this_thread::sleep_for(milliseconds(300));
      if (cpu_seconds() - before < 0.003) {
        return true;
      }
    }
    return false;
  }

  int port_ = 0;
  std::string here_;
  std::string json_;

 private:
  ServeSettings settings_;
  std::atomic<bool> stop_ = false;
  std::thread thread_;
};

/// A plan of minutes: many sections, each another for the rules, under many pantographs.
std::string long_plan() {
  std::string train =
      "kind = \"train\"\nid = \"x\"\nname = \"x\"\ninvented = true\n"
      "stock = [\"../stock/pantographs.toml\", \"../stock/vehicles.toml\"]\n"
      "acceleration_ms2 = 0.2\nbraking_ms2 = 0.4\n";
  for (int i = 0; i < 6; ++i) {
    train += "[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n";
  }
  std::string route =
      "kind = \"route\"\nid = \"x\"\nname = \"x\"\ninvented = true\n"
      "[profile.p]\nsystem = \"AC 15 kV 16.7 Hz\"\ngreatest_train_current_a = 900\n"
      "permitted_head_widths_mm = [1950]\npermitted_strip_materials = [\"plain carbon\", "
      "\"copper alloy\"]\nautomatic_dropping_device_required = false\ncontact_line = \"X\"\n"
      "wire_height_min_m = 5.0\nwire_height_max_m = 6.0\ndesign_type = \"A\"\n";
  for (int i = 0; i < 4000; ++i) {
    const std::string n = std::to_string(i);
    route += "[[section]]\nid = \"s" + n + "\"\nname = \"s\"\nprofile = \"p\"\nfrom_km = " + n +
             ".0\nto_km = " + std::to_string(i + 1) +
             ".0\nline_speed_kmh = " + std::to_string(40 + i % 40) + "." + n + "\n";
  }
  return nlohmann::json{{"train", {{"name", "trains/x.toml"}, {"text", train}}},
                        {"route", {{"name", "routes/x.toml"}, {"text", route}}},
                        {"rules", nlohmann::json::array()}}
      .dump();
}

TEST_F(Connections, ranges_are_not_looked_at) {
  const std::string foreign = "Host: evil.example:" + std::to_string(port_) + "\r\n";
  const auto requests = [&](const std::string& range) {
    return std::vector<std::string>{
        "GET / HTTP/1.1\r\n" + here_ + range + "\r\n",
        "HEAD / HTTP/1.1\r\n" + here_ + range + "\r\n",
        "GET / HTTP/1.1\r\n" + foreign + range + "\r\n",
        "GET /api/library/file?path=trains/t03-petrol.toml HTTP/1.1\r\n" + here_ + range + "\r\n",
        "GET /none HTTP/1.1\r\n" + here_ + range + "\r\n",
        "GET /api/jobs/1/events HTTP/1.1\r\n" + here_ + range + "\r\n",
        "DELETE / HTTP/1.1\r\n" + here_ + range + "\r\n",
        "POST /api/plan HTTP/1.1\r\n" + here_ + range + "Content-Length: 2\r\n\r\n{}",
        "POST /api/plan HTTP/1.1\r\n" + json_ + range + "Content-Length: 2\r\n\r\n{}",
        "POST /api/plan HTTP/1.1\r\n" + json_ + range + "Content-Length: 99999999\r\n\r\n"};
  };
  const std::vector<std::string> without = requests("");
  for (const std::string range :
       {"0-0", "100-3000", "0-", "-1", "-", "5-1", "0-0,5-9", "999999999999-", "-999999999999",
        "0-18446744073709551615", "18446744073709551616-", "abc", ""}) {
    for (const std::string& header :
         {"Range: bytes=" + range + "\r\n", "Range: lines=" + range + "\r\n",
          "Range: bytes=" + range + "\r\nIf-Range: \"x\"\r\n",
          "Range: bytes=1-2\r\nRange: bytes=" + range + "\r\n"}) {
      const std::vector<std::string> with = requests(header);
      for (std::size_t i = 0; i < with.size(); ++i) {
        const ServerAnswer expected = ask(without[i]);
        const ServerAnswer answer = ask(with[i]);
        ASSERT_NE(expected.status, 0) << without[i];
        EXPECT_EQ(answer.head, expected.head) << with[i];
        EXPECT_EQ(answer.body, expected.body) << with[i];
      }
      if (range != "100-3000") {
        break;  // all forms with one range, all ranges in one form
      }
    }
  }
}

TEST_F(Connections, a_refusal_is_the_refusal_and_nothing_else) {
  const auto error = [](const std::string& text) {
    return nlohmann::ordered_json{{"error", text}, {"diagnostics", nlohmann::json::array()}}
               .dump() +
           "\n";
  };
  const std::string secret = "told in confidence";
  EXPECT_EQ(ask(post("/api/plan", "{\"train\": \"" + secret + "\"}")).status, 400);
  struct Refused {
    std::string request;
    int status;
    std::string said;
  };
  const std::string foreign =
      error("this server answers its own page alone: Host or Origin is another");
  const std::vector<Refused> all{
      {"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", 403, foreign},
      {"POST /api/plan HTTP/1.1\r\nHost: evil.example\r\nContent-Length: 99\r\n\r\n" + secret, 403,
       foreign},
      {get("/", "Origin: http://evil.example\r\n"), 403, foreign},
      {get("/none"), 404, error("there is nothing under this path")},
      {get("/api/jobs/1/events"), 404, error("there is no such job")},
      {"DELETE / HTTP/1.1\r\n" + here_ + "\r\n", 405, error("this path does not take this method")},
      {"BREW /api/plan HTTP/1.1\r\n" + here_ + "\r\n", 405,
       error("this path does not take this method")},
      {"POST /api/plan HTTP/1.1\r\n" + json_ + "Content-Length: 9000001\r\n\r\n", 413,
       error("the request is larger than 9 MB")},
      {"POST /api/plan HTTP/1.1\r\n" + here_ + "Content-Length: 9\r\n\r\n", 415,
       error("expected Content-Type: application/json")},
      {get("/", "X: " + std::string(20'000, 'x') + "\r\n"), 431,
       error("the request's headers are longer than 16000 bytes")},
      {"nonsense\r\n\r\n", 400, error("the request is no HTTP")},
      {get("/?path=%"), 400, error("the request is no HTTP")}};
  for (const Refused& refused : all) {
    const ServerAnswer answer = ask(refused.request);
    EXPECT_EQ(answer.status, refused.status) << refused.request.substr(0, 100);
    EXPECT_EQ(answer.body, refused.said) << refused.request.substr(0, 100);
    EXPECT_NE(answer.head.find(length_line(answer)), std::string::npos) << answer.head;
  }
}

TEST_F(Connections, a_head_request_has_the_length_and_no_body) {
  const ServerAnswer whole = ask(get("/"));
  const ServerAnswer head = ask("HEAD / HTTP/1.1\r\n" + here_ + "\r\n");
  EXPECT_EQ(head.body, "");
  EXPECT_NE(head.head.find(length_line(whole)), std::string::npos);
}

TEST_F(Connections, a_body_without_end_is_refused_soon) {
  const Client client(port_);
  ASSERT_TRUE(
      client.send("POST /api/plan HTTP/1.1\r\n" + json_ + "Transfer-Encoding: chunked\r\n\r\n"));
  const std::string chunk = "186a0\r\n" + std::string(100'000, ' ') + "\r\n";
  for (int i = 0; i < 400 && client.send(chunk); ++i) {
  }
  EXPECT_EQ(taken_apart(client.answer()).status, 413);
}

TEST_F(Connections, headers_without_end_are_refused_soon) {
  const Client client(port_);
  ASSERT_TRUE(client.send("GET / HTTP/1.1\r\n" + here_));
  const std::string line = "X: " + std::string(997, 'x') + "\r\n";
  for (int i = 0; i < 20'000 && client.send(line); ++i) {
  }
  EXPECT_EQ(taken_apart(client.answer()).status, 431);
}

TEST_F(Connections, whoever_asks_whether_to_send_is_told_to) {
  const Client client(port_);
  client.send("POST /api/plan HTTP/1.1\r\n" + json_ +
              "Expect: 100-continue\r\nContent-Length: 2\r\n\r\n");
  EXPECT_EQ(client.answer(milliseconds(300)), "HTTP/1.1 100 Continue\r\n\r\n");
  client.send("{}");
  EXPECT_EQ(taken_apart(client.answer()).status, 400);
}

TEST_F(Connections, clients_that_go_at_any_time_are_forgotten) {
  const std::string plan = post("/api/plan", "{\"train\": 1}");
  for (std::size_t i = 0; i < 2 * plan.size(); ++i) {
    const Client client(port_);
    client.send(std::string_view(plan).substr(0, i % plan.size() + 1));
  }
  for (int i = 0; i < 100; ++i) {
    const Client client(port_);
    client.send(get("/"));
  }
  EXPECT_EQ(ask(plan).status, 400);
}

TEST_F(Connections, work_is_given_up_soon_after_its_client_has_gone) {
  const std::string plan = long_plan();
  for (const std::string path : {"/api/plan", "/api/report", "/api/card"}) {
    Client client(port_);
    ASSERT_TRUE(client.send(post(path, plan)));
    EXPECT_FALSE(idle_within(1)) << "it is a plan of minutes";
    EXPECT_EQ(client.answer(milliseconds(10)), "");
    client.go();
    EXPECT_TRUE(idle_within(10)) << path;
  }
}

TEST_F(Connections, work_is_given_up_when_the_server_ends) {
  const Client client(port_);
  ASSERT_TRUE(client.send(post("/api/plan", long_plan())));
  EXPECT_FALSE(idle_within(1));
  EXPECT_EQ(ask(get("/api/library")).status, 200);
  expect_to_end_soon();
}

class FewConnections : public Connections {
 protected:
  static constexpr std::size_t most = 20;
  void SetUp() override {
    serve_with({.connections = most,
                .bytes_in_hand = 10'000'000,
                .for_head = milliseconds(600),
                .for_body = milliseconds(600),
                .for_reply = milliseconds(600)});
  }
};

TEST_F(FewConnections, slow_ones_do_not_keep_others_waiting) {
  std::vector<Client> slow;
  for (std::size_t i = 0; i < 4 * most; ++i) {
    slow.emplace_back(port_);
    slow.back().send(i % 3 == 0 ? std::string("GET / HT")
                     : i % 3 == 1
                         ? std::string()
                         : "POST /api/plan HTTP/1.1\r\n" + json_ + "Content-Length: 100\r\n\r\n{");
    if (i % 8 == 0) {
      const auto begin = Clock::now();
      EXPECT_EQ(ask(get("/api/jobs")).status, 200);
      EXPECT_LT(seconds_since(begin), 2);
    }
  }
}

TEST_F(FewConnections, a_request_comes_in_time_or_is_refused) {
  const auto drip = [&](const std::string& before) {
    const Client client(port_);
    const auto begin = Clock::now();
    client.send(before);
    std::string answer;
    while (answer.empty() && seconds_since(begin) < 10 && client.send("x")) {
      answer = client.answer(milliseconds(50));
    }
    EXPECT_LT(seconds_since(begin), 5);
    return taken_apart(answer).status;
  };
  EXPECT_EQ(drip("GET / HTTP/1.1\r\nX: "), 408);
  EXPECT_EQ(drip("POST /api/plan HTTP/1.1\r\n" + json_ + "Content-Length: 1000\r\n\r\n"), 408);
  // Who has said nothing is told nothing.
  const Client silent(port_);
  const auto begin = Clock::now();
  EXPECT_EQ(silent.answer(), "");
  EXPECT_LT(seconds_since(begin), 5);
}

TEST_F(FewConnections, large_requests_at_once_are_so_many) {
  std::vector<Client> senders;
  const std::string most_of_it = "POST /api/plan HTTP/1.1\r\n" + json_ +
                                 "Content-Length: 8000000\r\n\r\n" + std::string(7'000'000, ' ');
  senders.emplace_back(port_);
  senders.back().send(most_of_it);
  senders.emplace_back(port_);
  senders.back().send(most_of_it);
  const int first = taken_apart(senders[0].answer(milliseconds(5000))).status;
  const int second = taken_apart(senders[1].answer(milliseconds(5000))).status;
  EXPECT_TRUE(first == 503 || second == 503) << first << " " << second;
  // When they are over, others are taken again.
  EXPECT_EQ(ask(post("/api/plan", std::string(7'000'000, ' '))).status, 400);
}

TEST_F(FewConnections, a_client_that_reads_nothing_is_let_go) {
  std::vector<Client> deaf;
  for (std::size_t i = 0; i < most; ++i) {
    deaf.emplace_back(port_);
    deaf.back().send(get("/"));
  }
  EXPECT_EQ(ask(get("/api/jobs")).status, 200);
}

}  // namespace
}  // namespace panup
