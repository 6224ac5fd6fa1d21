#include "serve/library_requests.h"

#include <fmt/format.h>

#include <filesystem>

#include "base/sha256.h"
#include "files/document.h"
#include "requests/check_text.h"
#include "serve/models.h"
#include "serve/write_file.h"

namespace panup {

namespace fs = std::filesystem;

namespace {

std::string without_slash(std::string path) {
  while (path.size() > 1 && path.ends_with('/')) {
    path.pop_back();
  }
  return path;
}

Reply wrong_place(const std::string& path, std::string text) {
  return mistakes_reply({{{.file = path}, std::move(text)}});
}

/// Somebody else may have written, made or removed the file since the page read it.
std::optional<Reply> conflict_with(const std::string& path, bool exists,
                                   const std::optional<std::string>& replaces,
                                   const PlanningPlace& place) {
  if (!replaces) {
    return exists ? std::optional(error_reply(status_conflict,
                                              fmt::format("there is a file {} already", path)))
                  : std::nullopt;
  }
  if (!exists) {
    return error_reply(status_conflict, fmt::format("{} is gone since it was read", path));
  }
  Diagnostics diagnostics;
  const auto now = files_of(place.library).load(path, diagnostics);
  if (!now || sha256_hex(now->text) != *replaces) {
    return error_reply(status_conflict, fmt::format("{} is another one since it was read", path),
                       std::move(diagnostics));
  }
  return std::nullopt;
}

}  // namespace

std::vector<SourceText> rule_books_of(const PlanningPlace& place) {
  std::vector<SourceText> books;
  const FileSource files = files_of(place);
  Diagnostics unsaid;
  for (const std::string& path : place.rules) {
    if (auto book = files.load(path, unsaid)) {
      books.push_back(std::move(*book));
    }
  }
  for (const ListedFile& file : list_files(place.library)) {
    auto book =
        file.kind == name_of(FileKind::rule_book) ? files.load(file.path, unsaid) : std::nullopt;
    if (book) {
      books.push_back(std::move(*book));
    }
  }
  return books;
}

Reply reply_to_library(const PlanningPlace& place, const std::string& card_register) {
  const std::vector<ListedFile> files = list_files(place.library);
  auto list = nlohmann::ordered_json::array();
  for (const ListedFile& file : files) {
    list.push_back({{"path", file.path},
                    {"kind", file.kind},
                    {"id", file.id},
                    {"name", file.name},
                    {"invented", file.invented}});
  }
  return json_reply({{"folder", without_slash(place.library.folder.string())},
                     {"register", card_register.empty() ? nlohmann::ordered_json(nullptr)
                                                        : nlohmann::ordered_json(card_register)},
                     {"files", std::move(list)},
                     {"vehicle_types", vehicle_types_to_model(stock_of(place.library, files))}});
}

Reply reply_to_file(const std::string& path, const PlanningPlace& place) {
  if (const std::string wrong = wrong_with_name(path); !wrong.empty()) {
    return error_reply(status_malformed, wrong);
  }
  Diagnostics diagnostics;
  const auto source = files_of(place.library).load(path, diagnostics);
  if (!source) {
    return error_reply(status_not_found,
                       "there is no such file in the library, or it cannot be read",
                       std::move(diagnostics));
  }
  return json_reply({{"path", path}, {"text", source->text}, {"sha256", sha256_hex(source->text)}});
}

Reply reply_to_writing(const std::string& body, const PlanningPlace& place, std::mutex& writing) {
  SourceText written;
  std::optional<std::string> text;
  std::optional<std::string> replaces;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        written.file = request.text("path").value_or("");
        if (const std::string mistake = wrong_with_name(written.file); !mistake.empty()) {
          request.report("path", mistake);
        }
        text = request.text("text", Need::optional);
        replaces = request.text("replaces", Need::optional);
        if (!text && !replaces) {
          request.report("text",
                         "expected the text of the file; only one that is there is removed");
        }
      })) {
    return *wrong;
  }
  written.text = text.value_or("");
  const FileSource files = with_texts(files_of(place), {written});
  if (Diagnostics mistakes = mistakes_in(written, files, rule_books_of(place));
      text && !mistakes.empty()) {
    return mistakes_reply(std::move(mistakes));
  }
  const std::lock_guard lock(writing);
  const auto folder = place_within(place.library, fs::path(written.file).parent_path().string());
  std::error_code error;
  if (!folder || !fs::is_directory(*folder, error)) {
    return wrong_place(written.file, "there is no such folder in the library");
  }
  const fs::path target = *folder / fs::path(written.file).filename();
  const fs::file_status status = fs::symlink_status(target, error);
  if (fs::exists(status) && !fs::is_regular_file(status)) {
    return wrong_place(written.file, "a link or a folder of that name is in the way");
  }
  if (auto conflict = conflict_with(written.file, fs::exists(status), replaces, place)) {
    return *conflict;
  }
  if (!text) {
    return fs::remove(target, error)
               ? json_reply({{"path", written.file}, {"sha256", nullptr}})
               : error_reply(status_fault, fmt::format("{} cannot be removed: {}", written.file,
                                                       error.message()));
  }
  const std::string wrong =
      write_file(target, written.text, replaces ? Placing::replacing : Placing::as_new);
  if (!wrong.empty()) {
    return error_reply(status_fault, fmt::format("{} cannot be written: {}", written.file, wrong));
  }
  return json_reply({{"path", written.file}, {"sha256", sha256_hex(written.text)}});
}

}  // namespace panup
