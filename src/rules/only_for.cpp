#include "rules/only_for.h"

#include <string_view>

namespace panup {

namespace {

/// "a", "a or b", "a, b and c".
std::string listed(const std::vector<std::string>& words, std::string_view before_last) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) {
      text += i + 1 == words.size() ? before_last : ", ";
    }
    text += words[i];
  }
  return text;
}

}  // namespace

std::string only_for_words(const OnlyFor& only_for) {
  std::vector<std::string> parts;
  const auto add = [&](std::string_view before, const std::vector<std::string>& values,
                       std::string_view after) {
    if (!values.empty()) {
      parts.push_back(std::string(before) + listed(values, " or ") + std::string(after));
    }
  };
  add("section ", only_for.sections, "");
  add("line ", only_for.lines, "");
  add("class ", only_for.classes, "");
  add(only_for.loads.empty() || only_for.loads.front() != "ordinary" ? "a " : "an ", only_for.loads,
      " load");
  return parts.empty() ? std::string() : "only for " + listed(parts, " and ");
}

}  // namespace panup
