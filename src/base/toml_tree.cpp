#include "base/toml_tree.h"

#include <fmt/format.h>

// What toml++ 3.3 takes for granted does not hold for every text ("[[=" and "[}" break it), though
// it goes on to report such texts: its assertions would end the program, and its assumptions, which
// replace them under NDEBUG, would mislead the compiler.
#undef NDEBUG
#define TOML_ASSERT(expression) static_assert(true)
#define TOML_EXCEPTIONS 0
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <iterator>

#include "base/toml_mending.h"

namespace panup {

namespace {

struct Converter {
  const SourceText& source;
  Diagnostics& diagnostics;
  bool too_deep = false;
};

TomlNode convert(Converter& converter, const toml::node& node, int depth) {
  const toml::source_position& begin = node.source().begin;
  TomlNode converted{.line = static_cast<int>(begin.line),
                     .column = static_cast<int>(begin.column),
                     .value = false};
  if (depth > greatest_nesting) {
    if (!converter.too_deep) {
      converter.diagnostics.push_back(
          {{.file = converter.source.file, .line = converted.line, .column = converted.column},
           fmt::format("this is nested more than {} deep; input files are flat",
                       greatest_nesting)});
    }
    converter.too_deep = true;
    return converted;
  }
  if (const toml::table* const table = node.as_table()) {
    TomlEntries entries;
    for (const auto& [key, value] : *table) {
      const toml::source_position& place = key.source().begin;
      entries.push_back({std::string(key.str()), static_cast<int>(place.line),
                         static_cast<int>(place.column), convert(converter, value, depth + 1)});
    }
    std::ranges::stable_sort(entries, [](const TomlEntry& a, const TomlEntry& b) {
      return std::pair(a.line, a.column) < std::pair(b.line, b.column);
    });
    converted.value = std::move(entries);
  } else if (const toml::array* const array = node.as_array()) {
    TomlArray elements;
    for (const toml::node& element : *array) {
      elements.push_back(convert(converter, element, depth + 1));
    }
    converted.value = std::move(elements);
  } else if (const auto* const text = node.as_string()) {
    converted.value = text->get();
  } else if (const auto* const whole = node.as_integer()) {
    converted.value = whole->get();
  } else if (const auto* const real = node.as_floating_point()) {
    converted.value = real->get();
  } else if (const auto* const flag = node.as_boolean()) {
    converted.value = flag->get();
  } else if (const auto* const date = node.as_date()) {
    converted.value = TomlDate{.is_day = true,
                               .year = date->get().year,
                               .month = date->get().month,
                               .day = date->get().day};
  } else if (const auto* const time = node.as_time()) {
    converted.value = TomlDate{.is_time = true,
                               .hour = time->get().hour,
                               .minute = time->get().minute,
                               .second = time->get().second};
  } else {
    converted.value = TomlDate{};
  }
  return converted;
}

/// What toml++ says of a name that stands twice, "cannot redefine existing TYPE 'NAME'", in words.
std::string stands_twice(std::string_view description) {
  const std::size_t first = description.find('\'');
  const std::size_t last = description.rfind('\'');
  if (first == last) {
    return std::string(description);
  }
  const std::string_view name = description.substr(first + 1, last - first - 1);
  return description.find("existing table") != std::string_view::npos ||
                 description.find("existing array") != std::string_view::npos
             ? fmt::format(
                   "'{0}' begins a second time; where there may be several, each begins "
                   "with [[{0}]]",
                   name)
             : fmt::format("key '{}' stands here a second time", name);
}

/// toml++ describes a mistake as "Error while parsing X: Y"; what the user needs is Y, or what most
/// likely led to it.
std::string clean(std::string_view description) {
  const std::size_t colon = description.find(": ");
  if (description.starts_with("Error while parsing") && colon != std::string_view::npos) {
    description.remove_prefix(colon + 2);
  }
  if (description.starts_with("could not determine value type")) {
    description =
        "expected a number, true or false, text in quotes, a list in [ ] or a table in { }; a "
        "bracket or a quote may be missing before it";
  } else if (description.starts_with("unescaped control characters")) {
    description =
        "text in quotes ends on its own line and holds no control character; the closing quote may "
        "be missing";
  }
  if (description.starts_with("cannot redefine existing")) {
    return fmt::format("this is not TOML: {}", stands_twice(description));
  }
  return fmt::format("this is not TOML: {}", description);
}

}  // namespace

namespace {

/// The tree of a sound text; nothing, and the first mistake, where the text is not TOML.
std::optional<TomlNode> parse_sound(const SourceText& source, Diagnostics& diagnostics) {
  if (auto unfit = unfit_to_parse(source)) {
    diagnostics.push_back(std::move(*unfit));
    return std::nullopt;
  }
  const toml::parse_result result = toml::parse(std::string_view(source.text));
  if (!result) {
    const toml::parse_error& error = result.error();
    diagnostics.push_back({{.file = source.file,
                            .line = static_cast<int>(error.source().begin.line),
                            .column = static_cast<int>(error.source().begin.column)},
                           clean(error.description())});
    return std::nullopt;
  }
  Converter converter{.source = source, .diagnostics = diagnostics};
  TomlNode root = convert(converter, result.table(), 0);
  if (converter.too_deep) {
    return std::nullopt;
  }
  return root;
}

}  // namespace

std::optional<TomlNode> parse_toml(const SourceText& source, Diagnostics& diagnostics) {
  if (!is_sound(source, diagnostics)) {
    return std::nullopt;
  }
  Diagnostics refused;
  auto root = parse_sound(source, refused);
  if (root) {
    return root;
  }
  MendedText mended = mend_toml(source);
  if (mended.mistakes.empty()) {
    diagnostics.insert(diagnostics.end(), refused.begin(), refused.end());
    return std::nullopt;
  }
  refused.clear();
  root = parse_sound({.file = source.file, .text = std::move(mended.text)}, refused);
  diagnostics.insert(diagnostics.end(), mended.mistakes.begin(), mended.mistakes.end());
  // What is still wrong with a line that was put right may come of putting it right.
  std::ranges::copy_if(refused, std::back_inserter(diagnostics), [&mended](const Diagnostic& one) {
    return std::ranges::none_of(mended.mistakes, [&one](const Diagnostic& mistake) {
      return mistake.place.line == one.place.line;
    });
  });
  return root;
}

std::string kind_of(const TomlNode& node) {
  if (const bool* const flag = std::get_if<bool>(&node.value)) {
    return *flag ? "true" : "false";
  }
  static constexpr std::array<const char*, 7> names{
      "", "a whole number", "a number", "text", "a date or time", "a list", "a table"};
  return names.at(node.value.index());
}

}  // namespace panup
