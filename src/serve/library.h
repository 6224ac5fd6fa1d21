#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "files/read_stock.h"

namespace panup {

/// A folder of input files. Paths within it are relative to it, with '/'.
struct Library {
  std::filesystem::path folder;  ///< without links and dots
};

/// Nothing, and why in words, where there is no such folder.
std::optional<Library> open_library(const std::string& folder, std::string& wrong);

/// What is wrong with a name that a file of the library is to have, as a page may send it; empty
/// where nothing is. Right is a path within the folder, without "." and "..", ending in .toml.
std::string wrong_with_name(std::string_view name);

/// Where a path really leads, links followed; nothing where that is outside of the library.
std::optional<std::filesystem::path> place_within(const Library& library, const std::string& path);

/// Reads files of the library. What leads out of it is reported, as is what is no plain file.
FileSource files_of(const Library& library);

/// `texts` go before what `files` has under their names.
FileSource with_texts(const FileSource& files, std::vector<SourceText> texts);

/// A file of the library, as it is listed.
struct ListedFile {
  std::string path;
  std::string kind;  ///< as the file says; empty where it says none that is known
  std::string id;    ///< empty where it has none
  std::string name;
  bool invented = false;
};

/// All files ending in .toml, by path; hidden ones, and those behind links to folders, are left
/// out.
std::vector<ListedFile> list_files(const Library& library);

/// All vehicle types of the stock files among `files`, as far as they have no mistakes.
Stock stock_of(const Library& library, const std::vector<ListedFile>& files);

}  // namespace panup
