#include "base/write_toml.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (byte < 0x20 || byte == 0x7F) {
      out += fmt::format("\\u{:04X}", byte);
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string key_text(const std::string& key) {
  const bool bare = !key.empty() && std::ranges::all_of(key, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
  return bare ? key : quoted(key);
}

std::string real_text(double value) {
  if (std::isnan(value)) {
    return "nan";
  }
  if (std::isinf(value)) {
    return value < 0 ? "-inf" : "inf";
  }
  // The shortest that reads back to the same; a point or an exponent makes it a float.
  const std::string text = fmt::format("{}", value);
  return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
}

std::string value_text(const TomlNode& node);

template <typename List, typename Write>
std::string joined(const List& list, Write write) {
  std::string text;
  for (const auto& one : list) {
    text += (text.empty() ? "" : ", ") + write(one);
  }
  return text;
}

struct ValueWriter {
  std::string operator()(bool value) const { return value ? "true" : "false"; }
  std::string operator()(std::int64_t value) const { return fmt::format("{}", value); }
  std::string operator()(double value) const { return real_text(value); }
  std::string operator()(const std::string& value) const { return quoted(value); }
  std::string operator()(const TomlDate& date) const {
    if (date.is_time) {
      return fmt::format("{:02}:{:02}:{:02}", date.hour, date.minute, date.second);
    }
    return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
  }
  std::string operator()(const TomlArray& list) const {
    return "[" + joined(list, value_text) + "]";
  }
  std::string operator()(const TomlEntries& table) const {
    const std::string inside = joined(table, [](const TomlEntry& entry) {
      return key_text(entry.key) + " = " + value_text(entry.node);
    });
    return inside.empty() ? "{}" : "{ " + inside + " }";
  }
};

std::string value_text(const TomlNode& node) { return std::visit(ValueWriter{}, node.value); }

bool is_table(const TomlNode& node) { return std::holds_alternative<TomlEntries>(node.value); }

void write_table(const TomlEntries& table, const std::string& path, std::string& out) {
  for (const TomlEntry& entry : table) {
    if (!is_table(entry.node) && !is_list_of_tables(entry.node)) {
      out += fmt::format("{} = {}\n", key_text(entry.key), value_text(entry.node));
    }
  }
  for (const TomlEntry& entry : table) {
    const std::string name =
        path.empty() ? key_text(entry.key) : fmt::format("{}.{}", path, key_text(entry.key));
    if (is_table(entry.node)) {
      out += fmt::format("\n[{}]\n", name);
      write_table(std::get<TomlEntries>(entry.node.value), name, out);
    } else if (is_list_of_tables(entry.node)) {
      for (const TomlNode& one : std::get<TomlArray>(entry.node.value)) {
        out += fmt::format("\n[[{}]]\n", name);
        write_table(std::get<TomlEntries>(one.value), name, out);
      }
    }
  }
}

}  // namespace

bool is_list_of_tables(const TomlNode& node) {
  const auto* const list = std::get_if<TomlArray>(&node.value);
  return list != nullptr && !list->empty() && std::ranges::all_of(*list, is_table);
}

std::string to_toml(const TomlNode& root) {
  std::string out;
  write_table(std::get<TomlEntries>(root.value), {}, out);
  return out;
}

std::string key_to_toml(const std::string& key) { return key_text(key); }

std::string value_to_toml(const TomlNode& node) { return value_text(node); }

}  // namespace panup
