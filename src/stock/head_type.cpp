#include "stock/head_type.h"

#include <algorithm>
#include <array>

namespace panup {

namespace {

struct NamedHead {
  std::string_view name;
  HeadWidths widths;
};

constexpr std::array<NamedHead, 10> heads{{
    {"1950 Type 1", {1950, 1950}},
    {"1950 Type 1, insulated horns", {1950, 1950}},
    {"1950 Type 2", {1950, 1950}},
    {"1950 PL", {1950, 1950}},
    {"1600 EP", {1600, 1600}},
    {"1600 GB", {1600, 1600}},
    {"1600 GB CTRL", {1600, 1600}},
    {"1760 BE", {1760, 1760}},
    {"1800 NO SE", {1800, 1800}},
    {"2000 to 2260", {2000, 2260}},
}};

}  // namespace

std::string_view name_of(HeadType type) { return heads.at(static_cast<std::size_t>(type)).name; }

std::optional<HeadType> head_type_named(std::string_view name) {
  const auto* const found = std::ranges::find(heads, name, &NamedHead::name);
  return found == heads.end() ? std::nullopt
                              : std::optional(static_cast<HeadType>(found - heads.begin()));
}

std::vector<std::string> head_type_names() {
  std::vector<std::string> names;
  for (const NamedHead& head : heads) {
    names.emplace_back(head.name);
  }
  return names;
}

HeadWidths widths_of(HeadType type) { return heads.at(static_cast<std::size_t>(type)).widths; }

}  // namespace panup
