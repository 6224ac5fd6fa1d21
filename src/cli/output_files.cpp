#include "cli/output_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "base/new_file.h"
#include "cli/commands.h"
#include "cli/say.h"

namespace panup {

namespace fs = std::filesystem;

namespace {

/// Makes a folder with all that lead to it. `made` receives the new ones, the outermost first.
std::error_code make_folder(const fs::path& folder, std::vector<fs::path>& made) {
  fs::path so_far;
  for (const fs::path& part : folder) {
    so_far /= part;
    std::error_code error;
    if (fs::create_directory(so_far, error)) {
      made.push_back(so_far);
    } else if (error) {
      return error;
    }
  }
  std::error_code error;
  return fs::is_directory(folder, error) ? std::error_code{}
                                         : std::make_error_code(std::errc::not_a_directory);
}

/// Writes all under temporary names, then renames all; what went wrong, or empty.
std::string write_and_rename(const fs::path& folder, const std::vector<OutputFile>& files,
                             std::vector<fs::path>& temporary) {
  for (const OutputFile& file : files) {
    const fs::path target = folder / file.name;
    std::error_code error;
    if (fs::is_directory(target, error)) {
      return fmt::format("{}: cannot be written: a folder of that name is in the way",
                         target.string());
    }
    temporary.push_back(part_beside(target));
    fs::remove(temporary.back(), error);  // of a run of the same number that was killed
    if (const std::string wrong = write_new_file(temporary.back(), file.bytes); !wrong.empty()) {
      return fmt::format("{}: cannot be written: {}", target.string(), wrong);
    }
  }
  for (std::size_t i = 0; i < files.size(); ++i) {
    const fs::path target = folder / files[i].name;
    std::error_code error;
    fs::rename(temporary[i], target, error);
    if (error) {
      return fmt::format("{}: cannot be written: {}", target.string(), error.message());
    }
  }
  return {};
}

}  // namespace

std::optional<WriteFailure> write_files(const std::string& folder,
                                        const std::vector<OutputFile>& files) {
  std::vector<fs::path> made;
  std::vector<fs::path> temporary;
  WriteFailure failure;
  if (const std::error_code error = make_folder(folder, made)) {
    failure.text = fmt::format("{}: the folder cannot be made: {}", folder, error.message());
    failure.folder_unusable = true;
  } else {
    remove_stale_parts(folder);
    failure.text = write_and_rename(folder, files, temporary);
  }
  if (failure.text.empty()) {
    return std::nullopt;
  }
  std::error_code ignored;
  for (const fs::path& path : temporary) {
    fs::remove(path, ignored);
  }
  std::ranges::reverse(made);
  for (const fs::path& path : made) {
    fs::remove(path, ignored);  // takes away empty folders only
  }
  return failure;
}

void add_rendered(std::vector<RenderedFile> rendered, std::vector<OutputFile>& files) {
  for (RenderedFile& one : rendered) {
    files.push_back({std::move(one.name), std::move(one.bytes)});
  }
}

std::string input_in_the_way(const std::string& path, const std::vector<std::string>& inputs) {
  for (const std::string& input : inputs) {
    std::error_code error;
    // One file may have many names: links, and ways that lead to it.
    if (fs::equivalent(path, input, error)) {
      return path == input
                 ? fmt::format("{}: is not written, for it is an input of this command", path)
                 : fmt::format("{}: is not written, for it is the same file as the input {}", path,
                               input);
    }
  }
  return {};
}

int write_out(const std::string& folder, const std::vector<OutputFile>& files,
              const std::vector<std::string>& inputs, Told told) {
  for (const OutputFile& file : files) {
    const std::string wrong = input_in_the_way((fs::path(folder) / file.name).string(), inputs);
    if (!wrong.empty()) {
      say("panup: {}; nothing was written. Name another place for the result\n", wrong);
      return exit_wrong_input;
    }
  }
  if (const auto failure = write_files(folder, files)) {
    say("panup: {}\n", failure->text);
    return failure->folder_unusable ? exit_wrong_input : exit_fault;
  }
  if (told == Told::all) {
    for (const OutputFile& file : files) {
      say("written: {}\n", (fs::path(folder) / file.name).string());
    }
  }
  return exit_done;
}

std::optional<FilePlace> file_place(const std::string& path) {
  const fs::path whole(path);
  std::error_code error;
  const fs::file_status status = fs::status(whole, error);
  if (!whole.has_filename() || whole.filename() == "." || whole.filename() == ".." ||
      (fs::exists(status) && !fs::is_regular_file(status))) {
    return std::nullopt;
  }
  const std::string folder = whole.parent_path().string();
  return FilePlace{folder.empty() ? "." : folder, whole.filename().string()};
}

}  // namespace panup
