#include "serve/request_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

void report_whole(Diagnostics& diagnostics, std::string text) {
  diagnostics.push_back({{.file = std::string(request_name)}, std::move(text)});
}

/// The parser's tree takes memory by value, and writing it out takes stack by depth.
std::string unfit(std::string_view body) {
  int depth = 0;
  std::size_t values = 1;
  bool in_text = false;
  for (std::size_t i = 0; i < body.size(); ++i) {
    const char c = body[i];
    if (in_text) {
      if (c == '\\') {
        ++i;
      } else if (c == '"') {
        in_text = false;
      }
    } else if (c == '"') {
      in_text = true;
    } else if (c == '[' || c == '{') {
      ++values;
      if (++depth > greatest_json_nesting) {
        return fmt::format("it is nested more than {} deep", greatest_json_nesting);
      }
    } else if (c == ']' || c == '}') {
      --depth;
    } else if (c == ',') {
      ++values;
    }
    if (values > most_json_values) {
      return fmt::format("it has more than {} values", most_json_values);
    }
  }
  return {};
}

}  // namespace

std::optional<nlohmann::json> parse_request(std::string_view body, Diagnostics& diagnostics) {
  if (body.size() > greatest_body_bytes) {
    report_whole(diagnostics,
                 fmt::format("it is larger than {} MB", greatest_body_bytes / 1'000'000));
    return std::nullopt;
  }
  if (std::string why = unfit(body); !why.empty()) {
    report_whole(diagnostics, std::move(why));
    return std::nullopt;
  }
  auto value = nlohmann::json::parse(body, nullptr, false);
  if (value.is_discarded()) {
    report_whole(diagnostics, "this is no JSON, in UTF-8 and with numbers of double precision");
    return std::nullopt;
  }
  return value;
}

RequestObject::RequestObject(const nlohmann::json& value, std::string path,
                             Diagnostics& diagnostics)
    : value_(&value), path_(std::move(path)), diagnostics_(&diagnostics) {
  if (!value.is_object()) {
    report_at(path_, "expected an object");
  }
}

void RequestObject::report_at(const std::string& path, std::string_view what) {
  report_whole(*diagnostics_,
               path.empty() ? std::string(what) : fmt::format("'{}': {}", path, what));
}

void RequestObject::report(std::string_view key, std::string_view what) {
  report_at(path_of(key), what);
}

std::string RequestObject::path_of(std::string_view key) const {
  return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

const nlohmann::json* RequestObject::value(std::string_view key) {
  asked_.emplace(key);
  if (!value_->is_object()) {
    return nullptr;
  }
  const auto found = value_->find(key);
  return found == value_->end() || found->is_null() ? nullptr : &*found;
}

const nlohmann::json* RequestObject::find(std::string_view key, Need need) {
  const nlohmann::json* const found = value(key);
  if (found == nullptr && need == Need::required && value_->is_object()) {
    report(key, "it is missing");
  }
  return found;
}

bool RequestObject::is_text(std::string_view key) {
  const nlohmann::json* const found = value(key);
  return found != nullptr && found->is_string();
}

std::optional<std::string> RequestObject::text(std::string_view key, Need need) {
  const nlohmann::json* const found = find(key, need);
  if (found != nullptr && !found->is_string()) {
    report(key, "expected text");
    return std::nullopt;
  }
  return found != nullptr ? std::optional(found->get<std::string>()) : std::nullopt;
}

std::optional<std::string> RequestObject::word(std::string_view key,
                                               const std::vector<std::string>& words, Need need) {
  auto found = text(key, need);
  if (found && std::ranges::find(words, *found) == words.end()) {
    report(key, fmt::format("expected one of {}", quoted_list(words)));
    return std::nullopt;
  }
  return found;
}

std::optional<double> RequestObject::checked(const nlohmann::json& value, const std::string& path,
                                             Range range) {
  if (!value.is_number()) {
    report_at(path, "expected a number");
    return std::nullopt;
  }
  const auto number = value.get<double>();
  const bool low = range.above_least ? !(number > range.least) : !(number >= range.least);
  if (low || !(number <= range.greatest)) {
    report_at(path, fmt::format("{:.9g} is out of range; expected {} {:.9g} to {:.9g}", number,
                                range.above_least ? "above" : "from", range.least, range.greatest));
    return std::nullopt;
  }
  return number;
}

std::optional<double> RequestObject::number(std::string_view key, Range range, Need need) {
  const nlohmann::json* const found = find(key, need);
  return found != nullptr ? checked(*found, path_of(key), range) : std::nullopt;
}

std::optional<int> RequestObject::whole(std::string_view key, int least, int greatest, Need need) {
  const auto found = number(key, {static_cast<double>(least), static_cast<double>(greatest)}, need);
  if (found && std::floor(*found) != *found) {
    report(key, "expected a whole number");
    return std::nullopt;
  }
  return found ? std::optional(static_cast<int>(*found)) : std::nullopt;
}

std::optional<bool> RequestObject::flag(std::string_view key, Need need) {
  const nlohmann::json* const found = find(key, need);
  if (found != nullptr && !found->is_boolean()) {
    report(key, "expected true or false");
    return std::nullopt;
  }
  return found != nullptr ? std::optional(found->get<bool>()) : std::nullopt;
}

std::optional<std::vector<double>> RequestObject::numbers(std::string_view key, Range range,
                                                          std::size_t most) {
  const nlohmann::json* const found = find(key, Need::required);
  if (found == nullptr) {
    return std::nullopt;
  }
  if (!found->is_array() || found->size() > most) {
    report(key, fmt::format("expected a list of at most {} numbers", most));
    return std::nullopt;
  }
  std::vector<double> values;
  for (std::size_t i = 0; i < found->size(); ++i) {
    if (const auto value = checked((*found)[i], fmt::format("{}[{}]", path_of(key), i), range)) {
      values.push_back(*value);
    }
  }
  return values.size() == found->size() ? std::optional(std::move(values)) : std::nullopt;
}

std::optional<std::vector<std::string>> RequestObject::texts(std::string_view key,
                                                             std::size_t most) {
  const nlohmann::json* const found = find(key, Need::required);
  if (found == nullptr) {
    return std::nullopt;
  }
  const bool right = found->is_array() && found->size() <= most &&
                     std::ranges::all_of(*found, [](const auto& one) { return one.is_string(); });
  if (!right) {
    report(key, fmt::format("expected a list of at most {} texts", most));
    return std::nullopt;
  }
  return found->get<std::vector<std::string>>();
}

std::optional<RequestObject> RequestObject::object(std::string_view key, Need need) {
  const nlohmann::json* const found = find(key, need);
  return found != nullptr ? std::optional(RequestObject(*found, path_of(key), *diagnostics_))
                          : std::nullopt;
}

std::vector<RequestObject> RequestObject::objects(std::string_view key, std::size_t most,
                                                  Need need) {
  const nlohmann::json* const found = find(key, need);
  if (found == nullptr) {
    return {};
  }
  if (!found->is_array() || found->size() > most) {
    report(key, fmt::format("expected a list of at most {} objects", most));
    return {};
  }
  std::vector<RequestObject> objects;
  for (std::size_t i = 0; i < found->size(); ++i) {
    objects.emplace_back((*found)[i], fmt::format("{}[{}]", path_of(key), i), *diagnostics_);
  }
  return objects;
}

void RequestObject::finish() {
  if (!value_->is_object()) {
    return;
  }
  for (const auto& [key, value] : value_->items()) {
    if (!asked_.contains(key)) {
      const std::vector<std::string> known(asked_.begin(), asked_.end());
      const std::string_view nearest = nearest_of(key, known);
      report(key, nearest.empty()
                      ? std::string("this key is not known")
                      : fmt::format("this key is not known; did you mean '{}'?", nearest));
    }
  }
}

}  // namespace panup
