#include <algorithm>

#include "base/change_toml.h"
#include "harness.h"

namespace {

using panup::TomlEntry;
using panup::TomlNode;
using panup::TomlPath;

/// Ways to values of the file, at most so many.
constexpr std::size_t most_ways = 24;

void ways_in(const TomlNode& node, TomlPath& at, std::vector<TomlPath>& all) {
  const auto go = [&](const TomlNode& below, panup::TomlStep step) {
    if (all.size() >= most_ways) {
      return;
    }
    at.push_back(std::move(step));
    all.push_back(at);
    ways_in(below, at, all);
    at.pop_back();
  };
  if (const auto* const entries = std::get_if<panup::TomlEntries>(&node.value)) {
    for (const TomlEntry& entry : *entries) {
      go(entry.node, entry.key);
    }
  } else if (const auto* const list = std::get_if<panup::TomlArray>(&node.value)) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      go((*list)[i], i);
    }
  }
}

/// A change gives a text that says it, or says why not.
void require_change(const panup::SourceText& source, const TomlPath& at,
                    const std::optional<TomlNode>& to) {
  panup::Diagnostics diagnostics;
  const auto text = panup::change_toml(source, {.at = at, .to = to}, diagnostics);
  panup::require_sound(text.has_value(), diagnostics);
  if (!text) {
    return;
  }
  panup::Diagnostics none;
  const auto tree = panup::parse_toml({.file = source.file, .text = *text}, none);
  if (!tree || !none.empty()) {
    panup::fail("a changed text has mistakes that it had not before");
  }
  const TomlNode* const now = panup::find_value(*tree, at);
  if (to && (now == nullptr || !panup::say_the_same(*now, *to))) {
    panup::fail("a changed text does not say what it was to say");
  }
  // What is taken out of a list leaves its place to the next.
  if (!to && now != nullptr && std::holds_alternative<std::string>(at.back())) {
    panup::fail("what was taken out is there still");
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto source = panup::fuzzed_source(data, size);
  panup::Diagnostics diagnostics;
  const auto tree = panup::parse_toml(source, diagnostics);
  TomlNode text{};
  text.value = std::string("\"x\" # ]}");
  TomlNode number{};
  number.value = 2.5;
  if (!tree) {
    require_change(source, {"a"}, text);
    return 0;
  }
  std::vector<TomlPath> ways;
  TomlPath at;
  ways_in(*tree, at, ways);
  for (const TomlPath& way : ways) {
    require_change(source, way, text);
    require_change(source, way, std::nullopt);
    TomlPath below = way;
    below.emplace_back(std::string("new key"));
    require_change(source, below, number);
    below.back() = std::size_t{0};
    require_change(source, below, number);
  }
  require_change(source, {"new", "key"}, number);
  return 0;
}
