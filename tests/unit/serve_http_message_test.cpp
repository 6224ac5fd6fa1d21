#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "serve/http_message.h"
#include "serve/request_json.h"

namespace panup {
namespace {

using State = RequestReader::State;

constexpr int port = 8471;
const std::string here = "Host: 127.0.0.1:8471\r\n";
const std::string with_json = here + "Content-Type: application/json\r\n";

/// The reader after it was given `bytes`, so many at a time.
std::unique_ptr<RequestReader> read(const std::string& bytes, std::size_t at_once = 16'384) {
  auto reader = std::make_unique<RequestReader>(port);
  for (std::size_t i = 0; i < bytes.size(); i += at_once) {
    reader->take(std::string_view(bytes).substr(i, at_once));
  }
  return reader;
}

/// The status of the refusal; 0 where there is none.
int refused(const std::string& bytes, std::size_t at_once = 16'384) {
  const auto reader = read(bytes, at_once);
  return reader->state() == State::refused ? reader->refusal().status : 0;
}

std::string post(const std::string& headers, const std::string& body) {
  return "POST /api/plan HTTP/1.1\r\n" + headers + "\r\n" + body;
}

TEST(RequestReader, a_request_is_the_same_however_its_bytes_come) {
  const std::string bytes =
      "PUT /api/library/file?a=b&path=trains%2F1+2.toml HTTP/1.1\r\n" + with_json +
      "If-None-Match: \"x\"\r\nLast-Event-ID: 5\r\nTransfer-Encoding: chunked\r\n\r\n"
      "3;said=\"more\"\r\n{\"a\r\n4\r\n\": 1\r\n1\r\n}\r\n0\r\nHost: example.org\r\n\r\n";
  for (const std::size_t at_once : {1U, 2U, 3U, 7U, 50U, 10'000U}) {
    const auto reader = read(bytes, at_once);
    ASSERT_EQ(reader->state(), State::whole) << at_once;
    const ServiceRequest& request = reader->request();
    EXPECT_EQ(request.method, "PUT");
    EXPECT_EQ(request.path, "/api/library/file");
    EXPECT_EQ(request.file, "trains/1 2.toml");
    EXPECT_EQ(request.body, "{\"a\": 1}");
    EXPECT_EQ(request.if_none_match, "\"x\"");
    EXPECT_EQ(request.last_event_id, "5");
  }
}

TEST(RequestReader, what_is_not_of_the_page_is_refused_before_anything_else_is_looked_at) {
  for (const std::string wrong :
       {"", "Host: evil.example:8471\r\n", "Host: 127.0.0.1\r\n", "Host: 127.0.0.1:84710\r\n",
        "Host: 127.0.0.1:8471\r\nHost: 127.0.0.1:8471\r\n",
        "Host: 127.0.0.1:8471\r\nOrigin: null\r\n",
        "Host: 127.0.0.1:8471\r\nOrigin: https://127.0.0.1:8471\r\n",
        "Host: 127.0.0.1:8471\r\nOrigin: http://127.0.0.1:8471\r\nOrigin: http://a.example\r\n"}) {
    for (const std::string line :
         {"GET / HTTP/1.1\r\n", "GET /none HTTP/1.1\r\n", "BREW / HTTP/1.1\r\n",
          "GET http://127.0.0.1:8471/ HTTP/1.1\r\n", "POST /api/plan HTTP/1.1\r\n",
          "POST /api/plan HTTP/1.1\r\nContent-Length: 99999999999\r\n",
          "POST /api/plan HTTP/1.1\r\nTransfer-Encoding: chunked\r\n"}) {
      const auto reader = read(line + wrong + "\r\n");
      ASSERT_EQ(reader->state(), State::refused) << line << wrong;
      EXPECT_EQ(reader->refusal().status, status_refused) << line << wrong;
    }
  }
  EXPECT_EQ(refused("GET / HTTP/1.1\r\nHost: localhost:8471\r\n"
                    "Origin: http://localhost:8471\r\n\r\n"),
            0);
}

TEST(RequestReader, path_and_method_are_refused_before_the_body_comes) {
  EXPECT_EQ(refused("POST /api/none HTTP/1.1\r\n" + here + "Content-Length: 5\r\n\r\n"),
            status_not_found);
  EXPECT_EQ(refused("POST / HTTP/1.1\r\n" + here + "Content-Length: 5\r\n\r\n"),
            status_wrong_method);
  const auto reader = read("OPTIONS /api/jobs/1 HTTP/1.1\r\n" + here + "\r\n");
  ASSERT_EQ(reader->refusal().status, status_wrong_method);
  EXPECT_EQ(reader->refusal().headers,
            (std::vector<std::pair<std::string, std::string>>{{"Allow", "GET, DELETE"}}));
}

TEST(RequestReader, a_head_is_so_long_and_no_longer_however_it_comes) {
  const auto with_lines = [](std::size_t size) {
    std::string bytes = "GET / HTTP/1.1\r\n" + here;
    while (bytes.size() + 2 < size) {
      const std::size_t left = size - 2 - bytes.size();
      const std::size_t line = left < 128 ? left : 64;
      bytes += "X: " + std::string(line - 5, 'y') + "\r\n";
    }
    return bytes + "\r\n";
  };
  // One line at a time, for then each is parsed before the next comes.
  for (const std::size_t at_once : {1U, 64U, 16'384U}) {
    EXPECT_EQ(refused(with_lines(greatest_head_bytes), at_once), 0) << at_once;
    EXPECT_EQ(refused(with_lines(greatest_head_bytes + 1), at_once), status_head_too_large)
        << at_once;
    EXPECT_EQ(refused(with_lines(1'000'000), at_once), status_head_too_large) << at_once;
  }
  // Without an end.
  EXPECT_EQ(refused("GET /" + std::string(50'000, 'a')), status_head_too_large);
  EXPECT_EQ(refused("GET / HTTP/1.1\r\n" + here + "X: " + std::string(50'000, 'a'), 100),
            status_head_too_large);
}

TEST(RequestReader, a_body_is_so_long_and_no_longer_however_it_comes) {
  const auto stated = [](std::size_t size) {
    return post(with_json + "Content-Length: " + std::to_string(size) + "\r\n", "");
  };
  EXPECT_EQ(refused(stated(greatest_body_bytes)), 0);
  EXPECT_EQ(refused(stated(greatest_body_bytes + 1)), status_too_large);
  const std::string chunked = post(with_json + "Transfer-Encoding: chunked\r\n", "");
  std::string chunks;
  const std::string chunk = "186a0\r\n" + std::string(100'000, ' ') + "\r\n";
  for (std::size_t i = 0; i < greatest_body_bytes / 100'000; ++i) {
    chunks += chunk;
  }
  const auto reader = read(chunked + chunks + "0\r\n\r\n");
  ASSERT_EQ(reader->state(), State::whole);
  EXPECT_EQ(reader->request().body.size(), greatest_body_bytes);
  EXPECT_EQ(refused(chunked + chunks + "1\r\n"), status_too_large);
  EXPECT_EQ(refused(chunked + "ffffffffffffffff\r\n"), status_too_large);
  EXPECT_EQ(refused(chunked + "895441\r\n"), status_too_large);
}

TEST(RequestReader, what_stands_between_and_after_the_parts_of_a_body_has_an_end) {
  const std::string chunked = post(with_json + "Transfer-Encoding: chunked\r\n", "");
  const std::string much(50'000, 'a');
  EXPECT_EQ(refused(chunked + "1;x=" + much), status_head_too_large);
  EXPECT_EQ(refused(chunked + "0\r\nX: " + much), status_head_too_large);
  EXPECT_EQ(refused(chunked + std::string(50'000, '0')), status_head_too_large);
}

TEST(RequestReader, what_can_be_read_in_two_ways_is_not_read) {
  const std::string length = "Content-Length: 2\r\n";
  const std::string chunked = "Transfer-Encoding: chunked\r\n";
  for (const std::string& headers :
       {length + chunked, chunked + length, length + "Content-Length: 3\r\n",
        std::string("Content-Length: -1\r\n"), std::string("Content-Length: 2x\r\n"),
        std::string("Content-Length: 99999999999999999999\r\n"),
        std::string("Transfer-Encoding: gzip\r\n"), chunked + chunked,
        std::string("Transfer-Encoding: chunked, gzip\r\n"),
        std::string("Transfer-Encoding: gzip, chunked\r\n"), std::string("Bad Name: 1\r\n"),
        std::string("X: a\nY: b\r\n"), std::string("X\r\n"), std::string("X: \x01\r\n")}) {
    EXPECT_EQ(refused(post(with_json + headers, "{}")), status_malformed) << headers;
  }
  for (const std::string line :
       {"GET\r\n", "GET /\r\n", "GET / HTTP/9.9\r\n", "GET / HTTP/2.0\r\n", "\r\n",
        " / HTTP/1.1\r\n", "GET /%zz?path=%zz HTTP/1.1\r\n", "GET /?path=%2 HTTP/1.1\r\n",
        "GET * HTTP/1.1\r\n", "GET http://127.0.0.1:8471/ HTTP/1.1\r\n"}) {
    EXPECT_EQ(refused(line + here + "\r\n"), status_malformed) << line;
  }
  EXPECT_EQ(refused(std::string(100, '\0')), status_malformed);
  EXPECT_EQ(refused("\x16\x03\x01\x02\x01\x01\xfc\x03\x03"), status_malformed);
}

TEST(RequestReader, a_body_is_json_that_is_not_packed) {
  const std::string length = "Content-Length: 2\r\n\r\n{}";
  EXPECT_EQ(refused("POST /api/plan HTTP/1.1\r\n" + here + length), status_wrong_type);
  EXPECT_EQ(refused("POST /api/plan HTTP/1.1\r\n" + here + "Content-Type: text/plain\r\n" + length),
            status_wrong_type);
  EXPECT_EQ(
      refused("POST /api/plan HTTP/1.1\r\n" + with_json + "Content-Encoding: gzip\r\n" + length),
      status_wrong_type);
  EXPECT_EQ(refused("POST /api/plan HTTP/1.1\r\n" + here +
                    "Content-Type: application/json; charset=utf-8\r\n" + length),
            0);
}

TEST(RequestReader, the_body_of_a_request_that_has_none_is_not_waited_for) {
  const auto reader =
      read("GET / HTTP/1.1\r\n" + here + "Content-Length: 99999999999\r\n\r\nnot looked at");
  ASSERT_EQ(reader->state(), State::whole);
  EXPECT_EQ(reader->request().body, "");
}

TEST(RequestReader, whoever_asks_whether_to_send_is_told_to_where_it_is_not_refused) {
  const std::string expect = "Expect: 100-continue\r\n";
  const auto reader = read(post(with_json + expect + "Content-Length: 2\r\n", ""));
  EXPECT_EQ(reader->state(), State::in_body);
  EXPECT_TRUE(reader->awaits_go_ahead());
  EXPECT_FALSE(read(post(here + expect + "Content-Length: 2\r\n", ""))->awaits_go_ahead());
}

TEST(HeadOf, a_reply_says_its_length_and_may_not_be_kept_unless_it_says_so) {
  const std::string head = head_of(error_reply(status_refused, "no"));
  EXPECT_TRUE(head.starts_with("HTTP/1.1 403 Forbidden\r\nContent-Type: application/json"));
  EXPECT_NE(head.find("\r\nContent-Length: 32\r\n"), std::string::npos) << head;
  EXPECT_NE(head.find("\r\nCache-Control: no-store\r\n"), std::string::npos);
  EXPECT_NE(head.find("\r\nConnection: close\r\n"), std::string::npos);
  EXPECT_TRUE(head.ends_with("\r\n\r\n"));
  EXPECT_EQ(head_of({.headers = {{"Cache-Control", "no-cache"}}}).find("no-store"),
            std::string::npos);
  for (const int status : {status_no_content, status_not_modified}) {
    EXPECT_EQ(head_of({.status = status}).find("Content-Length"), std::string::npos);
  }
}

}  // namespace
}  // namespace panup
