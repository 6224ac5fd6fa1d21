/// A connection's bytes, from the first to the last byte of the reply, through all but the socket.
/// The first byte says in pieces of how many bytes the others come.

#include <stdlib.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "harness.h"
#include "serve/http_message.h"
#include "serve/job_requests.h"
#include "serve/request_json.h"

namespace {

namespace fs = std::filesystem;

constexpr int port = 8471;
constexpr std::size_t greatest_pieces = 255;

/// A copy of the demo scenario, for requests may write to it.
class Place {
 public:
  Place() {
    std::string name = (fs::temp_directory_path() / "panup-http-fuzz-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
      panup::fail("there is no room for the demo scenario");
    }
    folder_ = name;
    fs::copy(PANUP_DATA_FOLDER "/demo", folder_, fs::copy_options::recursive);
    std::string wrong;
    auto library = panup::open_library(folder_.string(), wrong);
    if (!library) {
      panup::fail("the demo scenario is not there");
    }
    service_.place = {
        .library = std::move(*library), .rules = {}, .jobs = 1, .program_version = "fuzzed"};
    service_.jobs = &nobody_works_;
  }
  ~Place() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  Place(const Place&) = delete;
  Place& operator=(const Place&) = delete;

  panup::Service& service() { return service_; }

 private:
  fs::path folder_;
  panup::JobBoard nobody_works_{std::vector<std::string>{}};
  panup::Service service_{.place = {}};
};

/// One head, with the length of the body; of an error, the words for it.
void require_whole(const panup::Reply& reply) {
  const std::string head = panup::head_of(reply);
  if (!head.starts_with("HTTP/1.1 ") || head.find("\r\n\r\n") != head.size() - 4) {
    panup::fail("the head of the reply is not one head");
  }
  const bool has_body =
      reply.status != panup::status_no_content && reply.status != panup::status_not_modified;
  const std::string length = "\r\nContent-Length: " + std::to_string(reply.body.size()) + "\r\n";
  if (has_body != (head.find(length) != std::string::npos) || (!has_body && !reply.body.empty())) {
    panup::fail("the head of the reply has another length than the body");
  }
  if (reply.status >= panup::status_malformed) {
    const auto body = nlohmann::json::parse(reply.body, nullptr, false);
    if (body.is_discarded() || !body["error"].is_string() || !body["diagnostics"].is_array()) {
      panup::fail("a refusal does not say why");
    }
  }
  if (reply.status == panup::status_fault) {
    panup::fail("a fault of the program");
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static Place place;
  if (size == 0) {
    return 0;
  }
  const std::string bytes(data + 1, data + size);
  const std::size_t at_once = data[0] == 0 ? greatest_pieces : data[0];
  panup::RequestReader reader(port);
  using State = panup::RequestReader::State;
  for (std::size_t i = 0; i < bytes.size(); i += at_once) {
    reader.take(std::string_view(bytes).substr(i, at_once));
  }
  if (reader.state() == State::refused) {
    require_whole(reader.refusal());
  } else if (reader.state() == State::whole) {
    const panup::ServiceRequest& request = reader.request();
    if (request.body.size() > panup::greatest_body_bytes) {
      panup::fail("more was taken in than is allowed");
    }
    // Streams are the server's.
    if (panup::job_in_path(request.path, "/events").empty()) {
      require_whole(panup::answer(place.service(), request));
    }
  }
  return 0;
}
