#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "render/json_parts.h"
#include "requests/check_files.h"

namespace panup {

namespace {

nlohmann::ordered_json to_json(const std::vector<CheckedFile>& files) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const CheckedFile& file : files) {
    nlohmann::ordered_json entry;
    entry["file"] = file.path;
    entry["kind"] = file.kind ? nlohmann::ordered_json(std::string(name_of(*file.kind)))
                              : nlohmann::ordered_json(nullptr);
    entry["mistakes"] = diagnostics_to_json(file.mistakes);
    entry["notices"] = diagnostics_to_json(file.notices);
    entry["remark"] = file.remark;
    entry["routes"] = file.routes;
    list.push_back(std::move(entry));
  }
  nlohmann::ordered_json document;
  document["files"] = std::move(list);
  return document;
}

std::string to_text(const std::vector<CheckedFile>& files) {
  std::string text;
  for (const CheckedFile& file : files) {
    if (file.mistakes.empty()) {
      text += fmt::format("{}: no mistakes found{}\n", file.path,
                          file.remark.empty() ? std::string() : fmt::format(" ({})", file.remark));
    }
    for (const Diagnostic& notice : file.notices) {
      text += to_line({notice.place, "notice: " + notice.text}) + "\n";
    }
  }
  return text;
}

int run_check(const std::vector<std::string>& paths, const CommonOptions& common) {
  const std::vector<CheckedFile> files = check_files(paths);
  Diagnostics all;
  for (const CheckedFile& file : files) {
    all.insert(all.end(), file.mistakes.begin(), file.mistakes.end());
  }
  if (!common.json()) {
    print_diagnostics(all);
  }
  return print_result(common.json() ? json_text(to_json(files)) : to_text(files),
                      all.empty() ? exit_done : exit_wrong_input);
}

}  // namespace

void add_check_command(CLI::App& program, int& status) {
  struct Options {
    CommonOptions common;
    std::vector<std::string> paths;
  };
  auto options = std::make_shared<Options>();
  CLI::App* const command = program.add_subcommand("check", "says what is wrong with input files");
  command
      ->add_option("FILE", options->paths,
                   "files to check, each says in 'kind' what it is; a folder stands for all .toml "
                   "files in it")
      ->required();
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_check(options->paths, options->common); });
}

}  // namespace panup
