#include "serve/reply.h"

#include <fmt/format.h>

#include "render/json_parts.h"

namespace panup {

std::string compact_json(const nlohmann::ordered_json& document) {
  return document.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

Reply json_reply(const nlohmann::ordered_json& document, int status) {
  return {.status = status, .body = compact_json(document) + "\n"};
}

nlohmann::ordered_json error_to_json(std::string_view error, Diagnostics diagnostics) {
  sort_by_place(diagnostics);
  return {{"error", error}, {"diagnostics", diagnostics_to_json(diagnostics)}};
}

Reply error_reply(int status, std::string_view error, Diagnostics diagnostics) {
  return json_reply(error_to_json(error, std::move(diagnostics)), status);
}

Reply malformed_reply(Diagnostics diagnostics) {
  return error_reply(status_malformed, "the request is not as the interface describes it",
                     std::move(diagnostics));
}

Reply mistakes_reply(Diagnostics diagnostics) {
  const std::size_t number = diagnostics.size();
  return error_reply(status_mistakes,
                     number == 1 ? std::string("the input has a mistake")
                                 : fmt::format("the input has {} mistakes", number),
                     std::move(diagnostics));
}

}  // namespace panup
