#include "serve/http_message.h"

#include <fmt/format.h>

#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/string_body.hpp>
#include <charconv>
#include <limits>
#include <optional>

#include "serve/request_json.h"

namespace panup {

namespace {

namespace http = boost::beast::http;

using Fields = http::fields;

std::string_view view_of(boost::beast::string_view text) { return {text.data(), text.size()}; }

template <typename Name>
std::string_view value_of(const Fields& fields, const Name& name) {
  const auto found = fields.find(name);
  return found == fields.end() ? std::string_view() : view_of(found->value());
}

/// A page of another site may send requests here, and its name may lead here; it is not to get an
/// answer.
bool is_of_this_page(const Fields& fields, int port) {
  const std::string by_number = fmt::format("127.0.0.1:{}", port);
  const std::string by_name = fmt::format("localhost:{}", port);
  const auto is_here = [&](std::string_view host) { return host == by_number || host == by_name; };
  if (fields.count(http::field::host) != 1 || !is_here(value_of(fields, http::field::host))) {
    return false;
  }
  const std::size_t origins = fields.count(http::field::origin);
  if (origins == 0) {
    return true;
  }
  std::string_view origin = value_of(fields, http::field::origin);
  constexpr std::string_view scheme = "http://";
  if (origins != 1 || !origin.starts_with(scheme)) {
    return false;
  }
  origin.remove_prefix(scheme.size());
  return is_here(origin);
}

/// Text of a query, with its %xx and + read; nothing where a %xx is none.
std::optional<std::string> query_text(std::string_view text) {
  std::string read;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      read += text[i] == '+' ? ' ' : text[i];
      continue;
    }
    if (text.size() - i < 3) {
      return std::nullopt;
    }
    unsigned char byte = 0;
    const char* const digits = text.data() + i + 1;
    const auto [end, error] = std::from_chars(digits, digits + 2, byte, 16);
    if (error != std::errc{} || end != digits + 2) {
      return std::nullopt;
    }
    read += static_cast<char>(byte);
    i += 2;
  }
  return read;
}

/// Sets the path, and what the query says of `path`. False where the target is none of a request to
/// this server.
bool read_target(std::string_view target, ServiceRequest& request) {
  if (!target.starts_with('/')) {
    return false;
  }
  const std::size_t mark = target.find('?');
  request.path = target.substr(0, mark);
  std::string_view rest = mark == std::string_view::npos ? "" : target.substr(mark + 1);
  while (!rest.empty()) {
    const std::string_view part = rest.substr(0, rest.find('&'));
    rest.remove_prefix(std::min(rest.size(), part.size() + 1));
    constexpr std::string_view key = "path=";
    if (part.starts_with(key)) {
      auto text = query_text(part.substr(key.size()));
      if (!text) {
        return false;
      }
      request.file = std::move(*text);
    }
  }
  return true;
}

bool is_json(std::string_view type) { return type.substr(0, type.find(';')) == "application/json"; }

Reply malformed() { return error_reply(status_malformed, "the request is no HTTP"); }

Reply head_too_large() {
  return error_reply(
      status_head_too_large,
      fmt::format("the request's headers are longer than {} bytes", greatest_head_bytes));
}

Reply body_too_large() {
  return error_reply(status_too_large, fmt::format("the request is larger than {} MB",
                                                   greatest_body_bytes / 1'000'000));
}

}  // namespace

struct RequestReader::Parser : http::request_parser<http::string_body> {
  Parser() {
    header_limit(greatest_head_bytes);
    // It is looked at with the other headers, Host before all: not by the parser.
    body_limit(std::numeric_limits<std::uint64_t>::max());
  }
};

RequestReader::RequestReader(int port) : port_(port), parser_(std::make_unique<Parser>()) {}

RequestReader::~RequestReader() = default;

void RequestReader::refuse(Reply reply) {
  state_ = State::refused;
  refusal_ = std::move(reply);
  request_ = {};
  parser_.reset();
  pending_ = {};
}

void RequestReader::take(std::string_view bytes) {
  if (state_ == State::whole || state_ == State::refused) {
    return;
  }
  has_begun_ = has_begun_ || !bytes.empty();
  pending_ += bytes;
  std::size_t parsed = 0;
  while (state_ == State::in_head || state_ == State::in_body) {
    boost::beast::error_code error;
    const std::size_t more = parser_->put(
        boost::asio::buffer(pending_.data() + parsed, pending_.size() - parsed), error);
    parsed += more;
    // The parser's own limit is for what is not parsed yet.
    head_bytes_ += state_ == State::in_head ? more : 0;
    if (head_bytes_ > greatest_head_bytes) {
      return refuse(head_too_large());
    }
    if (error == http::error::need_more || (!error && more == 0 && !parser_->is_done())) {
      break;
    }
    if (error) {
      refuse(error == http::error::header_limit ? head_too_large()
             : error == http::error::body_limit ? body_too_large()
                                                : malformed());
      return;
    }
    if (state_ == State::in_head && parser_->is_header_done()) {
      look_at_head();
    }
    if (state_ == State::in_body && parser_->is_done()) {
      request_.body = std::move(parser_->get().body());
      state_ = State::whole;
    }
  }
  if (state_ == State::whole) {
    parser_.reset();
    pending_ = {};
    return;
  }
  if (state_ == State::refused) {
    return;
  }
  pending_.erase(0, parsed);
  // The parser itself knows no limit of what stands between chunks, and after the last.
  if (pending_.size() > greatest_head_bytes) {
    refuse(head_too_large());
  }
}

void RequestReader::look_at_head() {
  const auto& message = parser_->get();
  if (!is_of_this_page(message, port_)) {
    return refuse(error_reply(status_refused,
                              "this server answers its own page alone: Host or Origin is another"));
  }
  request_.method = view_of(message.method_string());
  is_head_request_ = request_.method == "HEAD";
  if (!read_target(view_of(message.target()), request_)) {
    return refuse(malformed());
  }
  if (auto refusal = refusal_of(request_.method, request_.path)) {
    return refuse(std::move(*refusal));
  }
  request_.if_none_match = value_of(message, http::field::if_none_match);
  request_.last_event_id = value_of(message, "Last-Event-ID");
  if (!takes_body(request_.method)) {
    state_ = State::whole;
    return;
  }
  const bool is_coded = message.count(http::field::content_encoding) > 0;
  if (is_coded || !is_json(value_of(message, http::field::content_type))) {
    return refuse(error_reply(status_wrong_type, is_coded
                                                     ? "expected a body without Content-Encoding"
                                                     : "expected Content-Type: application/json"));
  }
  const bool is_sent_otherwise = message.count(http::field::transfer_encoding) > 0;
  if (is_sent_otherwise &&
      !boost::beast::iequals(message[http::field::transfer_encoding], "chunked")) {
    return refuse(malformed());
  }
  if (parser_->content_length().value_or(0) > greatest_body_bytes) {
    return refuse(body_too_large());
  }
  awaits_go_ahead_ = boost::beast::iequals(message[http::field::expect], "100-continue");
  parser_->body_limit(greatest_body_bytes);
  parser_->eager(true);
  state_ = State::in_body;
}

std::string head_of(const Reply& reply, BodyLength length) {
  const auto reason = http::obsolete_reason(static_cast<http::status>(reply.status));
  std::string head = fmt::format("HTTP/1.1 {} {}\r\n", reply.status, view_of(reason));
  const auto add = [&head](std::string_view name, std::string_view value) {
    head += fmt::format("{}: {}\r\n", name, value);
  };
  const bool has_body = reply.status != status_no_content && reply.status != status_not_modified;
  if (has_body) {
    add("Content-Type", reply.type);
  }
  if (has_body && length == BodyLength::known) {
    add("Content-Length", std::to_string(reply.body.size()));
  }
  bool may_be_kept = false;
  for (const auto& [name, value] : reply.headers) {
    add(name, value);
    may_be_kept = may_be_kept || name == "Cache-Control";
  }
  if (!may_be_kept) {
    add("Cache-Control", "no-store");
  }
  add("Content-Security-Policy",
      "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
      "object-src 'none'; frame-ancestors 'none'");
  add("X-Content-Type-Options", "nosniff");
  add("Referrer-Policy", "no-referrer");
  add("Connection", "close");
  return head + "\r\n";
}

}  // namespace panup
