#include "requests/plan_input.h"

#include <fmt/format.h>

#include "base/handed_out.h"
#include "base/sha256.h"
#include "files/read_conditions.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "requests/files_read_once.h"
#include "requests/input_parts.h"
#include "requests/run_input.h"

namespace panup {

namespace {

std::optional<Conditions> read_day(const std::string& path, const Route* route, const Words& words,
                                   const FileSource& files, Diagnostics& diagnostics) {
  if (path.empty()) {
    Conditions conditions;
    conditions.name = words.say("no conditions stated");
    return conditions;
  }
  const auto source = files.load(path, diagnostics);
  return source ? read_conditions(*source, route, diagnostics) : std::nullopt;
}

/// A run whose vehicles do not change has one part, which is planned like any train.
std::optional<PlanInput> only_part_of_run(const PlanPaths& paths, SpeedFrom speed_from,
                                          const FileSource& files, Diagnostics& diagnostics,
                                          ParsedFiles* parsed) {
  auto run = read_run_input(paths, speed_from, files, diagnostics, parsed);
  if (run && run->parts.size() > 1) {
    diagnostics.push_back(
        {{.file = paths.run_file},
         fmt::format("the vehicles of the train change on its run, in {} parts: plan it by itself, "
                     "with `panup plan --run`",
                     run->parts.size())});
    return std::nullopt;
  }
  return run ? std::optional(std::move(run->parts.front())) : std::nullopt;
}

}  // namespace

bool read_mechanics(PlanInput& input, const FileSource& files, Diagnostics& diagnostics) {
  if (input.request.speed_from == SpeedFrom::tables) {
    return true;
  }
  auto read = read_mechanics_data(input.request.route, input.request.train, diagnostics, files);
  if (!read) {
    return false;
  }
  input.mechanics = std::move(*read);
  for (const std::string& path : input.mechanics.line_paths) {
    input.files.push_back({"contact line", path});
  }
  for (const std::string& path : input.mechanics.pantograph_paths) {
    input.files.push_back({"pantograph model", path});
  }
  return true;
}

void take_hashes(std::vector<InputFile>& inputs, const FilesReadOnce& read,
                 const std::vector<ReplacedFile>& replaced) {
  for (InputFile& input : inputs) {
    input.sha256 = input.path == built_in_rule_file ? sha256_hex(built_in_rule_text())
                                                    : read.sha256_of(input.path);
    input.path = path_read_for(input.path, replaced);
  }
}

std::vector<InputFile> files_of(const PlanPaths& paths, const std::string& train_path,
                                const TrainFiles& train,
                                const std::vector<InputFile>& infrastructure) {
  std::vector<InputFile> files{{"train", train_path}};
  for (const std::string& path : train.stock_paths) {
    files.push_back({"stock", path});
  }
  for (const std::string& path : train.consent_paths) {
    files.push_back({"consents", path});
  }
  for (const std::string& path : train.defect_paths) {
    files.push_back({"defects", path});
  }
  files.insert(files.end(), infrastructure.begin(), infrastructure.end());
  if (!paths.conditions.empty()) {
    files.push_back({"conditions", paths.conditions});
  }
  files.push_back({"rule book", std::string(built_in_rule_file)});
  for (const std::string& path : paths.rules) {
    files.push_back({"rule book", path});
  }
  return files;
}

BesideTrain beside_train(const PlanPaths& paths, ParsedFiles* parsed) {
  BesideTrain beside{.consents = paths.consents,
                     .defects = paths.defects,
                     .run = paths.run,
                     .replaced = paths.replaced_classes,
                     .words = paths.words};
  if (parsed != nullptr) {
    beside.read_stock = [parsed](const std::vector<SourceText>& sources, Diagnostics& said,
                                 PantographTypes types) {
      return parsed->stock(sources, said, types);
    };
  }
  return beside;
}

std::optional<PlanInput> read_plan_input(const PlanPaths& paths, SpeedFrom speed_from,
                                         const FileSource& files, Diagnostics& diagnostics,
                                         ParsedFiles* parsed) {
  if (!paths.run_file.empty()) {
    return only_part_of_run(paths, speed_from, files, diagnostics, parsed);
  }
  const FileSource with_others = with_replaced(files, paths.replaced_files);
  FilesReadOnce read(with_others);
  const FileSource each_once = read.source();
  const BesideTrain beside = beside_train(paths, parsed);
  auto train = read_train_file(paths.train, diagnostics, each_once, beside);
  std::optional<Route> route;
  if (const auto source = each_once.load(paths.route, diagnostics)) {
    route =
        parsed != nullptr ? parsed->route(*source, diagnostics) : read_route(*source, diagnostics);
  }
  auto conditions =
      read_day(paths.conditions, route ? &*route : nullptr, paths.words, each_once, diagnostics);
  const auto day = train ? std::optional(train->train.release.date) : std::nullopt;
  auto rules = read_rule_books(paths.rules, day, diagnostics, each_once);
  if (!train || !route || !conditions || !rules) {
    return std::nullopt;
  }
  PlanInput input;
  input.files = files_of(paths, paths.train, *train, {{"route", paths.route}});
  input.request.train = std::move(train->train);
  input.request.route = std::move(*route);
  input.request.conditions = std::move(*conditions);
  input.request.rules = said_in(std::move(*rules), paths.words);
  input.request.speed_from = speed_from;
  if (!read_mechanics(input, each_once, diagnostics)) {
    return std::nullopt;
  }
  take_hashes(input.files, read, paths.replaced_files);
  input.not_there = read.not_there();
  const Diagnostics between = cross_check(input.request);
  diagnostics.insert(diagnostics.end(), between.begin(), between.end());
  return between.empty() ? std::optional(std::move(input)) : std::nullopt;
}

std::optional<RuleBook> read_rule_books(const std::vector<std::string>& paths,
                                        const std::optional<std::string>& day,
                                        Diagnostics& diagnostics, const FileSource& files) {
  RuleBook book = built_in_rule_book();
  bool whole = true;
  for (const std::string& path : paths) {
    const auto source = files.load(path, diagnostics);
    auto longer = source ? add_rule_book(book, *source, day, diagnostics) : std::nullopt;
    if (longer) {
      book = std::move(*longer);
    } else {
      whole = false;
    }
  }
  return whole ? std::optional(std::move(book)) : std::nullopt;
}

}  // namespace panup
