#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostics.h"

namespace panup {

/// What is sent back for a request.
struct Reply {
  int status = 200;
  std::string type = "application/json; charset=utf-8";
  std::string body = {};
  std::vector<std::pair<std::string, std::string>> headers = {};
};

/// The statuses of RFC 9110 that are used.
inline constexpr int status_done = 200;
inline constexpr int status_accepted = 202;
inline constexpr int status_no_content = 204;
inline constexpr int status_not_modified = 304;
inline constexpr int status_malformed = 400;
inline constexpr int status_refused = 403;
inline constexpr int status_not_found = 404;
inline constexpr int status_wrong_method = 405;
inline constexpr int status_timeout = 408;
inline constexpr int status_conflict = 409;
inline constexpr int status_too_large = 413;
inline constexpr int status_wrong_type = 415;
inline constexpr int status_mistakes = 422;
inline constexpr int status_too_many = 429;
inline constexpr int status_head_too_large = 431;
inline constexpr int status_fault = 500;
inline constexpr int status_busy = 503;

/// A JSON document in as few bytes as it takes. Bytes that are no UTF-8 are replaced.
std::string compact_json(const nlohmann::ordered_json& document);

Reply json_reply(const nlohmann::ordered_json& document, int status = status_done);

/// What is wrong in a sentence, and where, as far as it has a place.
nlohmann::ordered_json error_to_json(std::string_view error, Diagnostics diagnostics);

/// Every answer but a good one.
Reply error_reply(int status, std::string_view error, Diagnostics diagnostics = {});

/// For a request that the interface does not describe.
Reply malformed_reply(Diagnostics diagnostics);

/// For input that has mistakes.
Reply mistakes_reply(Diagnostics diagnostics);

}  // namespace panup
