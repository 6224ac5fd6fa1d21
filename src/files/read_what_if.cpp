#include "files/read_what_if.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"
#include "files/named_files.h"

namespace panup {

namespace {

std::optional<FileInPlace> read_replaced_file(TomlTable& entry,
                                              const std::vector<FileInPlace>& earlier) {
  auto file = read_file_name(entry, "file", Need::required);
  auto by = read_file_name(entry, "by", Need::required);
  entry.finish();
  if (!file || !by) {
    return std::nullopt;
  }
  if (file->path == by->path) {
    entry.report_at("by", fmt::format("{} would stand in its own place", by->path));
    return std::nullopt;
  }
  const bool again = std::ranges::any_of(
      earlier, [&](const FileInPlace& other) { return other.file.path == file->path; });
  if (again) {
    entry.report_at("file", fmt::format("{} is replaced twice", file->path));
    return std::nullopt;
  }
  return FileInPlace{std::move(*file), std::move(*by)};
}

std::optional<ReplacedClass> read_replaced_class(TomlTable& entry,
                                                 const std::vector<ReplacedClass>& earlier) {
  const auto id = entry.id("class", Need::required);
  const auto by = entry.id("by", Need::required);
  entry.finish();
  if (!id || !by) {
    return std::nullopt;
  }
  if (*id == *by) {
    entry.report_at("by", fmt::format("class '{}' would run in its own place", *by));
    return std::nullopt;
  }
  if (std::ranges::find(earlier, *id, &ReplacedClass::id) != earlier.end()) {
    entry.report_at("class", fmt::format("class '{}' is replaced twice", *id));
    return std::nullopt;
  }
  return ReplacedClass{*id, *by, entry.place_of("class"), entry.place_of("by")};
}

bool changes_nothing(const WhatIf& what_if) {
  return !what_if.conditions && what_if.rules.empty() && what_if.consents.empty() &&
         what_if.defects.empty() && what_if.replaced_files.empty() &&
         what_if.replaced_classes.empty();
}

}  // namespace

std::optional<WhatIf> read_what_if(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root =
      root_node ? root_of(*root_node, source.file, FileKind::what_if, diagnostics) : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  WhatIf what_if;
  what_if.name = root->text("name", Need::required).value_or("");
  what_if.invented = root->flag("invented").value_or(false);
  what_if.conditions = read_file_name(*root, "conditions", Need::optional);
  what_if.rules = read_file_names(*root, "rules");
  what_if.consents = read_file_names(*root, "consents");
  what_if.defects = read_file_names(*root, "defects");
  for (TomlTable& entry : root->tables("replace_file")) {
    if (auto replaced = read_replaced_file(entry, what_if.replaced_files)) {
      what_if.replaced_files.push_back(std::move(*replaced));
    }
  }
  for (TomlTable& entry : root->tables("replace_class")) {
    if (auto replaced = read_replaced_class(entry, what_if.replaced_classes)) {
      what_if.replaced_classes.push_back(std::move(*replaced));
    }
  }
  root->finish();
  if (diagnostics.size() == mistakes && changes_nothing(what_if)) {
    root->report(root->place(),
                 "nothing is another way: expected at least one of 'conditions', 'rules', "
                 "'consents', 'defects', [[replace_file]] or [[replace_class]]");
  }
  return diagnostics.size() == mistakes ? std::optional(std::move(what_if)) : std::nullopt;
}

std::optional<WhatIf> read_what_if_file(const std::string& path, Diagnostics& diagnostics,
                                        const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_what_if(*source, diagnostics) : std::nullopt;
}

std::vector<FileNamed> files_named_by(const WhatIf& what_if) {
  std::vector<FileNamed> named;
  if (what_if.conditions) {
    named.push_back(*what_if.conditions);
  }
  for (const std::vector<FileNamed>* const list :
       {&what_if.rules, &what_if.consents, &what_if.defects}) {
    named.insert(named.end(), list->begin(), list->end());
  }
  for (const FileInPlace& replaced : what_if.replaced_files) {
    named.push_back(replaced.file);
    named.push_back(replaced.by);
  }
  return named;
}

}  // namespace panup
