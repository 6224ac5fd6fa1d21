#include "base/write_toml.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <random>

namespace panup {
namespace {

TomlNode reread(const std::string& text) {
  Diagnostics diagnostics;
  auto root = parse_toml({.file = "written", .text = text}, diagnostics);
  EXPECT_TRUE(root) << (diagnostics.empty() ? "" : to_line(diagnostics.front())) << "\n" << text;
  return root ? std::move(*root) : TomlNode{.value = TomlEntries{}};
}

/// A tree in words, without places; the order of entries is left out, because tables come last.
std::string told(const TomlNode& node) {
  struct Teller {
    std::string operator()(bool value) const { return value ? "true" : "false"; }
    std::string operator()(std::int64_t value) const { return std::to_string(value); }
    std::string operator()(double value) const {
      char text[64];
      std::snprintf(text, sizeof text, "%a", value);
      return text;
    }
    std::string operator()(const std::string& value) const { return "'" + value + "'"; }
    std::string operator()(const TomlDate& date) const {
      return std::to_string(date.year) + "/" + std::to_string(date.month) + "/" +
             std::to_string(date.day);
    }
    std::string operator()(const TomlArray& list) const {
      std::string text = "[";
      for (const TomlNode& one : list) {
        text += told(one) + ";";
      }
      return text + "]";
    }
    std::string operator()(const TomlEntries& table) const {
      std::map<std::string, std::string> sorted;
      for (const TomlEntry& entry : table) {
        sorted[entry.key] = told(entry.node);
      }
      std::string text = "{";
      for (const auto& [key, value] : sorted) {
        text += "'" + key + "':" + value + ";";
      }
      return text + "}";
    }
  };
  return std::visit(Teller{}, node.value);
}

TomlNode node_of(
    std::variant<bool, std::int64_t, double, std::string, TomlDate, TomlArray, TomlEntries> value) {
  TomlNode node{};
  node.value = std::move(value);
  return node;
}

TomlEntry entry_of(std::string key, TomlNode node) {
  return {.key = std::move(key), .line = 0, .column = 0, .node = std::move(node)};
}

TEST(WriteToml, writes_a_file_as_one_writes_it_by_hand) {
  const TomlNode root = node_of(TomlEntries{
      entry_of("kind", node_of(std::string("train"))),
      entry_of("part", node_of(TomlArray{node_of(TomlEntries{
                           entry_of("a", node_of(std::int64_t{1})),
                           entry_of("inner", node_of(TomlArray{node_of(
                                                 TomlEntries{entry_of("b", node_of(0.5))})}))})})),
      entry_of("list", node_of(TomlArray{node_of(std::int64_t{1}), node_of(std::int64_t{2})})),
      entry_of("day", node_of(TomlDate{.is_day = true, .year = 2031, .month = 5, .day = 30}))});
  EXPECT_EQ(to_toml(root),
            "kind = \"train\"\nlist = [1, 2]\nday = 2031-05-30\n\n[[part]]\na = 1\n\n"
            "[[part.inner]]\nb = 0.5\n");
}

TEST(WriteToml, keeps_strings_numbers_and_keys_to_the_last_bit) {
  const TomlNode root = node_of(TomlEntries{
      entry_of("a b", node_of(std::string("\"quoted\" \\ back\n\ttab \x01\x1f\x7f \xc3\xa4"))),
      entry_of("", node_of(std::string())), entry_of("a.b", node_of(0.1 + 0.2)),
      entry_of("whole", node_of(5.0)), entry_of("tiny", node_of(5e-324)),
      entry_of("large", node_of(1.7976931348623157e308)), entry_of("minus", node_of(-0.0)),
      entry_of("least", node_of(INT64_MIN)), entry_of("empty", node_of(TomlArray{})),
      entry_of("table", node_of(TomlEntries{})),
      entry_of("mixed", node_of(TomlArray{node_of(true), node_of(TomlEntries{entry_of(
                                                             "x", node_of(TomlEntries{}))})}))});
  EXPECT_EQ(told(reread(to_toml(root))), told(root));
}

/// A tree of anything, at most so deep.
TomlNode random_node(std::mt19937& random, int depth) {
  const auto below = [&random](unsigned most) { return static_cast<unsigned>(random() % most); };
  const auto word = [&] {
    std::string text;
    for (unsigned i = below(6); i > 0; --i) {
      text += static_cast<char>(1 + below(127));
    }
    return text;
  };
  switch (below(depth > 0 ? 8 : 5)) {
    case 0:
      return node_of(below(2) == 1);
    case 1:
      return node_of(static_cast<std::int64_t>(random()) - 2'000'000'000);
    case 2:
      return node_of(std::ldexp(static_cast<double>(random()), static_cast<int>(below(200)) - 100));
    case 3:
      return node_of(TomlDate{.is_day = true,
                              .year = 1900 + static_cast<int>(below(200)),
                              .month = 1 + static_cast<int>(below(12)),
                              .day = 1 + static_cast<int>(below(28))});
    case 4:
      return node_of(word());
    case 5: {
      TomlArray list;
      for (unsigned i = below(4); i > 0; --i) {
        list.push_back(random_node(random, depth - 1));
      }
      return node_of(std::move(list));
    }
    default: {
      TomlEntries table;
      for (unsigned i = 0, number = below(4); i < number; ++i) {
        table.push_back(entry_of(word() + std::to_string(i), random_node(random, depth - 1)));
      }
      return node_of(std::move(table));
    }
  }
}

TEST(WriteToml, reads_back_to_the_same_tree_whatever_it_is) {
  std::mt19937 random(7);
  for (int i = 0; i < 500; ++i) {
    TomlEntries entries;
    for (int k = 0; k < 4; ++k) {
      entries.push_back(entry_of("k" + std::to_string(k), random_node(random, 4)));
    }
    const TomlNode root = node_of(std::move(entries));
    const std::string text = to_toml(root);
    ASSERT_EQ(told(reread(text)), told(root)) << text;
  }
}

}  // namespace
}  // namespace panup
