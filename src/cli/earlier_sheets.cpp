#include "cli/earlier_sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>
#include <sstream>
#include <system_error>

#include "base/sha256.h"
#include "cli/commands.h"
#include "cli/say.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

/// Hashes by name.
using Written = std::map<std::string, std::string>;

constexpr std::string_view between = "  ";
constexpr std::size_t hash_digits = 64;

std::optional<std::string> bytes_of(const fs::path& path) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) {
    return std::nullopt;
  }
  std::ifstream file(path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(file), {}};
  return file.is_open() && !file.bad() ? std::optional(std::move(bytes)) : std::nullopt;
}

/// Lines that are no such thing are passed over: what they name is then left alone.
Written earlier_in(const fs::path& folder) {
  Written written;
  std::istringstream lines(bytes_of(folder / written_list).value_or(""));
  for (std::string line; std::getline(lines, line);) {
    if (line.size() > hash_digits + between.size() &&
        std::string_view(line).substr(hash_digits).starts_with(between)) {
      written[line.substr(hash_digits + between.size())] = line.substr(0, hash_digits);
    }
  }
  return written;
}

OutputFile list_of(const Written& written) {
  OutputFile list{written_list, {}};
  for (const auto& [name, hash] : written) {
    list.bytes += fmt::format("{}{}{}\n", hash, between, name);
  }
  return list;
}

/// Whether a name is `STEM-N.svg` or `STEM-N.png`.
bool is_sheet(std::string_view name, std::string_view stem) {
  if (!name.starts_with(stem) || !(name.ends_with(".svg") || name.ends_with(".png"))) {
    return false;
  }
  name.remove_prefix(stem.size());
  name.remove_suffix(4);
  return name.size() > 1 && name.front() == '-' &&
         name.find_first_not_of("0123456789", 1) == std::string_view::npos;
}

/// Sheets in the folder that are not among `files`, by name.
std::vector<std::string> other_sheets(const fs::path& folder, const std::string& stem,
                                      const std::vector<OutputFile>& files) {
  std::vector<std::string> names;
  std::error_code error;
  fs::directory_iterator entry(folder, error);
  for (; !error && entry != fs::directory_iterator(); entry.increment(error)) {
    std::string name = entry->path().filename().string();
    if (is_sheet(name, stem) && std::ranges::find(files, name, &OutputFile::name) == files.end()) {
      names.push_back(std::move(name));
    }
  }
  std::ranges::sort(names);
  return names;
}

bool is_as_written(const fs::path& sheet, const Written& written) {
  const auto listed = written.find(sheet.filename().string());
  std::error_code error;
  if (listed == written.end() || !fs::is_regular_file(fs::symlink_status(sheet, error))) {
    return false;
  }
  const auto bytes = bytes_of(sheet);
  return bytes && sha256_hex(*bytes) == listed->second;
}

/// What of the folder the list names beside `files`, and is there.
std::vector<std::string> other_files(const fs::path& folder, const Written& earlier,
                                     const std::vector<OutputFile>& files) {
  std::vector<std::string> names;
  for (const auto& [name, hash] : earlier) {
    std::error_code error;
    if (!fs::path(name).has_parent_path() && fs::exists(fs::symlink_status(folder / name, error)) &&
        std::ranges::find(files, name, &OutputFile::name) == files.end()) {
      names.push_back(name);
    }
  }
  return names;
}

/// Writes files and the list of them, and removes those others that are as they were written.
int write_and_remove(const std::string& folder, std::vector<OutputFile> files,
                     const std::vector<std::string>& others, const Written& earlier,
                     const std::vector<std::string>& inputs, Told told) {
  Written written = earlier;
  for (const OutputFile& file : files) {
    written[file.name] = sha256_hex(file.bytes);
  }
  std::vector<std::string> removed;
  for (const std::string& name : others) {
    if (is_as_written(fs::path(folder) / name, earlier)) {
      removed.push_back(name);
      written.erase(name);
    } else {
      say("panup: {}/{} does not belong to this result; it is left, for it is not as panup wrote "
          "it\n",
          folder, name);
    }
  }
  files.push_back(list_of(written));
  if (const int status = write_out(folder, files, inputs, told); status != exit_done) {
    return status;
  }
  for (const std::string& name : removed) {
    std::error_code error;
    if (fs::remove(fs::path(folder) / name, error)) {
      say("removed, of an earlier result: {}/{}\n", folder, name);
    }
  }
  return exit_done;
}

}  // namespace

int write_sheets(const std::string& folder, const std::string& stem, std::vector<OutputFile> files,
                 const std::vector<std::string>& inputs, Told told) {
  const std::vector<std::string> others = other_sheets(folder, stem, files);
  return write_and_remove(folder, std::move(files), others, earlier_in(folder), inputs, told);
}

int write_whole_result(const std::string& folder, const std::string& stem,
                       std::vector<OutputFile> files, const std::vector<std::string>& inputs,
                       Told told) {
  const Written earlier = earlier_in(folder);
  std::vector<std::string> others = other_files(folder, earlier, files);
  for (std::string& sheet : other_sheets(folder, stem, files)) {
    if (!earlier.contains(sheet)) {
      others.push_back(std::move(sheet));
    }
  }
  return write_and_remove(folder, std::move(files), others, earlier, inputs, told);
}

void withdraw_sheets(const std::string& folder) {
  const Written earlier = earlier_in(folder);
  if (earlier.empty()) {
    return;
  }
  std::error_code error;
  bool all = true;
  for (const auto& [name, hash] : earlier) {
    const fs::path sheet = fs::path(folder) / name;
    if (fs::path(name).has_parent_path()) {
      continue;  // the list speaks of its own folder
    }
    if (is_as_written(sheet, earlier)) {
      fs::remove(sheet, error);
    } else if (fs::exists(fs::symlink_status(sheet, error))) {
      all = false;
      say("panup: {}/{} does not hold any more; it is left, for it is not as panup wrote it\n",
          folder, name);
    }
  }
  if (all) {
    fs::remove(fs::path(folder) / written_list, error);
    fs::remove(folder, error);  // takes away an empty folder only
    say("removed, of an earlier result: {}\n", folder);
  }
}

}  // namespace panup
