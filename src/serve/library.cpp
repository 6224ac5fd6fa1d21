#include "serve/library.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/toml_tree.h"
#include "files/document.h"

namespace panup {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_listed = 2000;
constexpr int deepest_folder = 8;
constexpr std::size_t longest_name = 512;

bool is_hidden(const fs::path& path) { return path.filename().string().starts_with('.'); }

/// The text of a top-level key; empty where it has none.
std::string top_text(const TomlEntries& entries, std::string_view key) {
  const auto entry = std::ranges::find(entries, key, &TomlEntry::key);
  const auto* const text =
      entry == entries.end() ? nullptr : std::get_if<std::string>(&entry->node.value);
  return text != nullptr ? *text : std::string();
}

ListedFile listed(const Library& library, const std::string& path) {
  ListedFile file{.path = path, .kind = {}, .id = {}, .name = {}};
  Diagnostics unsaid;  // a file with mistakes is listed as far as it can be read
  const auto source = files_of(library).load(path, unsaid);
  const auto root = source ? parse_toml(*source, unsaid) : std::nullopt;
  const auto* const entries = root ? std::get_if<TomlEntries>(&root->value) : nullptr;
  if (entries == nullptr) {
    return file;
  }
  const std::string kind = top_text(*entries, "kind");
  if (std::ranges::find(all_file_kinds, kind, [](FileKind known) { return name_of(known); }) !=
      all_file_kinds.end()) {
    file.kind = kind;
  }
  file.id = top_text(*entries, "id");
  file.name = top_text(*entries, "name");
  const auto invented = std::ranges::find(*entries, "invented", &TomlEntry::key);
  const auto* const flag =
      invented == entries->end() ? nullptr : std::get_if<bool>(&invented->node.value);
  file.invented = flag != nullptr && *flag;
  return file;
}

}  // namespace

std::optional<Library> open_library(const std::string& folder, std::string& wrong) {
  std::error_code error;
  const fs::path canonical = fs::canonical(folder, error);
  if (error || !fs::is_directory(canonical, error)) {
    wrong = fmt::format("{}: there is no such folder", folder);
    return std::nullopt;
  }
  return Library{canonical};
}

std::string wrong_with_name(std::string_view name) {
  if (name.empty() || name.size() > longest_name) {
    return fmt::format("the name of a file has 1 to {} characters", longest_name);
  }
  if (std::ranges::any_of(name, [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte < 0x20 || byte == 0x7F || c == '\\';
      })) {
    return "the name of a file has no control characters and no backslash";
  }
  if (!name.ends_with(".toml")) {
    return "the name of a file of the library ends in .toml";
  }
  const fs::path path(name);
  if (path.is_absolute() || std::ranges::any_of(path, [](const fs::path& part) {
        return part.empty() || part.string().starts_with('.');
      })) {
    return "it is to be a path within the library, without leading '/' and without names that "
           "begin "
           "with a dot";
  }
  return path.lexically_normal().string() == name
             ? std::string()
             : std::string("it is to be a plain path, as in trains/t01.toml");
}

std::optional<fs::path> place_within(const Library& library, const std::string& path) {
  if (path.find('\0') != std::string::npos) {
    return std::nullopt;
  }
  std::error_code error;
  const fs::path real = fs::weakly_canonical(library.folder / path, error);
  if (error) {
    return std::nullopt;
  }
  const auto [end, rest] = std::ranges::mismatch(library.folder, real);
  return end == library.folder.end() ? std::optional(real) : std::nullopt;
}

FileSource files_of(const Library& library) {
  const auto load = [library](const std::string& path,
                              Diagnostics& diagnostics) -> std::optional<SourceText> {
    const auto place = place_within(library, path);
    std::error_code error;
    if (!place) {
      diagnostics.push_back({{.file = path}, "this leads out of the library, and is not read"});
      return std::nullopt;
    }
    // A pipe or a device may keep a reader waiting for ever.
    const fs::file_status status = fs::status(*place, error);
    if (fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status)) {
      diagnostics.push_back({{.file = path}, "this is no plain file"});
      return std::nullopt;
    }
    Diagnostics of_loading;
    auto source = load_text(place->string(), of_loading);
    for (Diagnostic& diagnostic : of_loading) {
      diagnostic.place.file = path;
      diagnostics.push_back(std::move(diagnostic));
    }
    if (source) {
      source->file = path;
    }
    return source;
  };
  const auto has = [library](const std::string& path) {
    const auto place = place_within(library, path);
    std::error_code error;
    return !place || fs::is_regular_file(*place, error);
  };
  return {.load = load, .has = has};
}

FileSource with_texts(const FileSource& files, std::vector<SourceText> texts) {
  const auto shared = std::make_shared<const std::vector<SourceText>>(std::move(texts));
  const auto given = [shared](const std::string& path) {
    const auto text = std::ranges::find(*shared, path, &SourceText::file);
    return text == shared->end() ? nullptr : &*text;
  };
  return {
      .load = [given, load = files.load](const std::string& path,
                                         Diagnostics& diagnostics) -> std::optional<SourceText> {
        const SourceText* const text = given(path);
        return text != nullptr ? std::optional(*text) : load(path, diagnostics);
      },
      .has = [given, has = files.has](
                 const std::string& path) { return given(path) != nullptr || has(path); }};
}

std::vector<ListedFile> list_files(const Library& library) {
  std::vector<std::string> paths;
  std::error_code error;
  auto entry = fs::recursive_directory_iterator(
      library.folder, fs::directory_options::skip_permission_denied, error);
  for (; !error && entry != fs::recursive_directory_iterator() && paths.size() < most_listed;
       entry.increment(error)) {
    std::error_code unknown;
    if (is_hidden(entry->path()) || entry.depth() >= deepest_folder) {
      entry.disable_recursion_pending();
    } else if (entry->path().extension() == ".toml" && entry->is_regular_file(unknown)) {
      std::string path = entry->path().lexically_relative(library.folder).generic_string();
      if (wrong_with_name(path).empty() && place_within(library, path)) {
        paths.push_back(std::move(path));
      }
    }
  }
  std::ranges::sort(paths);
  std::vector<ListedFile> files;
  files.reserve(paths.size());
  for (const std::string& path : paths) {
    files.push_back(listed(library, path));
  }
  return files;
}

Stock stock_of(const Library& library, const std::vector<ListedFile>& files) {
  const FileSource source = files_of(library);
  std::vector<SourceText> texts;
  Diagnostics unsaid;
  for (const ListedFile& file : files) {
    if (file.kind == name_of(FileKind::stock)) {
      if (auto text = source.load(file.path, unsaid)) {
        texts.push_back(std::move(*text));
      }
    }
  }
  return read_stock(texts, unsaid);
}

}  // namespace panup
