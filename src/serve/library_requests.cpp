#include "serve/library_requests.h"

#include "base/sha256.h"
#include "serve/models.h"

namespace panup {

namespace {

std::string without_slash(std::string path) {
  while (path.size() > 1 && path.ends_with('/')) {
    path.pop_back();
  }
  return path;
}

}  // namespace

Reply reply_to_library(const PlanningPlace& place) {
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

}  // namespace panup
