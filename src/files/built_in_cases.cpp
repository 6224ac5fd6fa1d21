#include "files/built_in_cases.h"

#include <algorithm>
#include <stdexcept>

namespace panup {

namespace {

const BuiltInCaseFile* case_file(std::string_view path) {
  const auto files = built_in_case_files();
  const auto file = std::ranges::find(files, path, &BuiltInCaseFile::path);
  return file == files.end() ? nullptr : &*file;
}

PracticeCases parsed_cases() {
  Diagnostics diagnostics;
  const auto source = files_of_cases().load("practice/cases.toml", diagnostics);
  auto cases = source ? read_practice_cases(*source, diagnostics) : std::nullopt;
  if (!cases) {
    throw std::logic_error(to_line(diagnostics.front()));
  }
  return std::move(*cases);
}

}  // namespace

FileSource files_of_cases() {
  return {
      .load = [](const std::string& path, Diagnostics& diagnostics) -> std::optional<SourceText> {
        const BuiltInCaseFile* const file = case_file(path);
        if (file == nullptr) {
          diagnostics.push_back(
              {{.file = path}, "there is no such file among the cases of working practice"});
          return std::nullopt;
        }
        return SourceText{.file = path, .text = std::string(file->text)};
      },
      .has = [](const std::string& path) { return case_file(path) != nullptr; }};
}

const PracticeCases& built_in_cases() {
  static const PracticeCases cases = parsed_cases();
  return cases;
}

}  // namespace panup
