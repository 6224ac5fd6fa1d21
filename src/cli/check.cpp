#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "files/document.h"
#include "files/read_conditions.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "plan/make_plan.h"

namespace panup {

namespace {

struct CheckedFile {
  std::string path;
  std::optional<SourceText> source;
  std::optional<FileKind> kind;
  Diagnostics diagnostics;
};

CheckedFile open(const std::string& path) {
  CheckedFile file{.path = path, .source = {}, .kind = {}, .diagnostics = {}};
  file.source = load_text(path, file.diagnostics);
  if (!file.source) {
    return file;
  }
  if (const auto root = parse_toml(*file.source, file.diagnostics)) {
    file.kind = kind_of_file(*root, path, file.diagnostics);
  }
  return file;
}

std::optional<Route> first_route(std::vector<CheckedFile>& files) {
  for (CheckedFile& file : files) {
    if (file.kind == FileKind::route) {
      Diagnostics reported_elsewhere;
      if (auto route = read_route(*file.source, reported_elsewhere)) {
        return route;
      }
    }
  }
  return std::nullopt;
}

/// Stock files are read together, as a train would: vehicle types of one name pantograph types of
/// another. Where none of them has any, the names cannot be looked up; true then.
bool check_stock(std::vector<CheckedFile>& files) {
  std::vector<SourceText> sources;
  for (const CheckedFile& file : files) {
    const bool again = std::ranges::find(sources, file.path, &SourceText::file) != sources.end();
    if (file.kind == FileKind::stock && !again) {
      sources.push_back(*file.source);
    }
  }
  Diagnostics found;
  const Stock stock = read_stock(sources, found, PantographTypes::not_looked_up);
  const bool no_types = stock.pantograph_ids.empty();
  if (!no_types) {
    found.clear();
    read_stock(sources, found);
  }
  for (CheckedFile& file : files) {
    if (file.kind == FileKind::stock) {
      std::ranges::copy_if(
          found, std::back_inserter(file.diagnostics),
          [&file](const Diagnostic& diagnostic) { return diagnostic.place.file == file.path; });
    }
  }
  return no_types;
}

/// Checks a file of any kind but stock.
void check(CheckedFile& file, const Route* route, std::optional<RuleBook>& books) {
  switch (*file.kind) {
    case FileKind::stock:
      break;
    case FileKind::train:
      read_train_file(file.path, file.diagnostics);
      break;
    case FileKind::route:
      read_route(*file.source, file.diagnostics);
      break;
    case FileKind::conditions:
      read_conditions(*file.source, route, file.diagnostics);
      break;
    case FileKind::rule_book:
      if (auto longer = add_rule_book(*books, *file.source, file.diagnostics)) {
        books = std::move(longer);
      }
      break;
    case FileKind::contact_line:
      read_contact_line(*file.source, file.diagnostics);
      break;
    case FileKind::pantograph_model:
      read_pantograph_model(*file.source, file.diagnostics);
      break;
  }
}

/// What a clean check of the file leaves open, for behind "no mistakes found".
std::string left_open(const CheckedFile& file, bool route_given, bool types_given) {
  if (file.kind == FileKind::conditions && !route_given) {
    return " (sections it may name were not looked up: no route was given)";
  }
  if (file.kind == FileKind::stock && !types_given) {
    return " (pantograph types it may name were not looked up: no file that has any was given)";
  }
  return {};
}

std::string to_json(const std::vector<CheckedFile>& files) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const CheckedFile& file : files) {
    nlohmann::ordered_json mistakes = nlohmann::ordered_json::array();
    for (const Diagnostic& diagnostic : file.diagnostics) {
      mistakes.push_back({{"file", diagnostic.place.file},
                          {"line", diagnostic.place.line},
                          {"column", diagnostic.place.column},
                          {"text", diagnostic.text}});
    }
    nlohmann::ordered_json entry;
    entry["file"] = file.path;
    entry["kind"] = file.kind ? nlohmann::ordered_json(std::string(name_of(*file.kind)))
                              : nlohmann::ordered_json(nullptr);
    entry["mistakes"] = std::move(mistakes);
    list.push_back(std::move(entry));
  }
  nlohmann::ordered_json document;
  document["files"] = std::move(list);
  return json_text(document);
}

int run(const std::vector<std::string>& paths, const CommonOptions& common) {
  std::vector<CheckedFile> files;
  for (const std::string& path : paths) {
    files.push_back(open(path));
  }
  const std::optional<Route> route = first_route(files);
  std::optional<RuleBook> books = built_in_rule_book();
  for (CheckedFile& file : files) {
    if (file.kind) {
      file.diagnostics.clear();  // of the first look at its kind; reading it says the same again
      check(file, route ? &*route : nullptr, books);
    }
  }
  const bool types_given = !check_stock(files);
  bool any = false;
  std::string text;
  Diagnostics all;
  for (CheckedFile& file : files) {
    sort_by_place(file.diagnostics);
    if (file.diagnostics.empty()) {
      text += fmt::format("{}: no mistakes found{}\n", file.path,
                          left_open(file, route.has_value(), types_given));
    }
    any |= !file.diagnostics.empty();
    all.insert(all.end(), file.diagnostics.begin(), file.diagnostics.end());
  }
  if (!common.json()) {
    print_diagnostics(all);
  }
  return print_result(common.json() ? to_json(files) : text, any ? exit_wrong_input : exit_done);
}

}  // namespace

void add_check_command(CLI::App& program, int& status) {
  struct Options {
    CommonOptions common;
    std::vector<std::string> paths;
  };
  auto options = std::make_shared<Options>();
  CLI::App* const command = program.add_subcommand("check", "says what is wrong with input files");
  command->add_option("FILE", options->paths, "files to check; each says in 'kind' what it is")
      ->required();
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run(options->paths, options->common); });
}

}  // namespace panup
