#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "serve/reply.h"
#include "serve/service.h"

namespace panup {

/// Of a request's first line and headers together; of what stands between the parts of a body.
inline constexpr std::size_t greatest_head_bytes = 16'000;

/// Takes in a request, byte by byte if need be, and knows nothing of sockets. It never keeps more
/// than `greatest_head_bytes` twice and `greatest_body_bytes`. As soon as the headers are there,
/// and before any of the body is taken in, they decide: whether Host and Origin are those of the
/// page served at `port`, whether the method is one for the path, whether a body is JSON and short
/// enough.
class RequestReader {
 public:
  explicit RequestReader(int port);
  ~RequestReader();
  RequestReader(const RequestReader&) = delete;
  RequestReader& operator=(const RequestReader&) = delete;

  enum class State : std::uint8_t {
    in_head,
    in_body,
    whole,    ///< `request` is there
    refused,  ///< `refusal` is there
  };
  State state() const { return state_; }

  /// Takes in what came next. What comes after a request is whole or refused is not looked at.
  void take(std::string_view bytes);

  /// Whether anything came.
  bool has_begun() const { return has_begun_; }
  /// Whether the client waits to be told to send the body (Expect: 100-continue).
  bool awaits_go_ahead() const { return awaits_go_ahead_; }
  /// Whether the reply goes without its body.
  bool is_head_request() const { return is_head_request_; }

  ServiceRequest& request() { return request_; }
  Reply& refusal() { return refusal_; }

 private:
  struct Parser;

  void refuse(Reply reply);
  void look_at_head();

  int port_;
  std::unique_ptr<Parser> parser_;
  std::string pending_;  ///< came, and is not parsed yet
  std::size_t head_bytes_ = 0;
  State state_ = State::in_head;
  bool has_begun_ = false;
  bool awaits_go_ahead_ = false;
  bool is_head_request_ = false;
  ServiceRequest request_;
  Reply refusal_;
};

/// How long a body is known to be when the reply's head is sent.
enum class BodyLength : std::uint8_t {
  known,
  until_the_end,  ///< the body goes on until the connection is closed
};

/// The status line and headers of a reply, with the empty line after them. The connection is closed
/// after every reply.
std::string head_of(const Reply& reply, BodyLength length = BodyLength::known);

}  // namespace panup
