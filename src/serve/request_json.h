#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"
#include "base/toml_table.h"
#include "serve/reply.h"

namespace panup {

/// The name by which a request's body is reported.
inline constexpr std::string_view request_name = "request";

inline constexpr std::size_t greatest_body_bytes = 9'000'000;
inline constexpr int greatest_json_nesting = 32;
inline constexpr std::size_t most_json_values = 100'000;

/// The JSON of a body. Nothing, and a diagnostic, where it is none, is nested more than
/// `greatest_json_nesting` deep, or has more than `most_json_values` values.
std::optional<nlohmann::json> parse_request(std::string_view body, Diagnostics& diagnostics);

/// An object of a request, being read: each accessor checks type and range and reports a mistake
/// under the path of the value, as in "pantographs[1].model". `null` counts as absent. `finish`
/// reports keys that nobody asked for. The value and the diagnostics must outlive it.
class RequestObject {
 public:
  RequestObject(const nlohmann::json& value, std::string path, Diagnostics& diagnostics);

  std::optional<std::string> text(std::string_view key, Need need = Need::required);
  /// Text that is one of `words`.
  std::optional<std::string> word(std::string_view key, const std::vector<std::string>& words,
                                  Need need = Need::required);
  std::optional<double> number(std::string_view key, Range range, Need need = Need::required);
  std::optional<int> whole(std::string_view key, int least, int greatest,
                           Need need = Need::required);
  std::optional<bool> flag(std::string_view key, Need need = Need::required);
  std::optional<std::vector<double>> numbers(std::string_view key, Range range, std::size_t most);
  std::optional<std::vector<std::string>> texts(std::string_view key, std::size_t most);
  std::optional<RequestObject> object(std::string_view key, Need need = Need::required);
  std::vector<RequestObject> objects(std::string_view key, std::size_t most,
                                     Need need = Need::required);
  /// The value as it is, or null.
  const nlohmann::json* value(std::string_view key);
  bool is_text(std::string_view key);

  void report(std::string_view key, std::string_view what);
  void finish();

 private:
  const nlohmann::json* find(std::string_view key, Need need);
  std::string path_of(std::string_view key) const;
  void report_at(const std::string& path, std::string_view what);
  std::optional<double> checked(const nlohmann::json& value, const std::string& path, Range range);

  const nlohmann::json* value_;
  std::string path_;
  Diagnostics* diagnostics_;
  std::set<std::string, std::less<>> asked_;
};

/// Reads a request's body: `read` gets it as a `RequestObject`. The reply to send where it is not
/// as it should be; nothing where it is.
template <typename Read>
std::optional<Reply> wrong_with(std::string_view body, Read read) {
  Diagnostics diagnostics;
  const auto json = parse_request(body, diagnostics);
  if (json) {
    RequestObject request(*json, "", diagnostics);
    read(request);
    request.finish();
  }
  return diagnostics.empty() ? std::nullopt
                             : std::optional(malformed_reply(std::move(diagnostics)));
}

}  // namespace panup
