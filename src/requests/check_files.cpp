#include "requests/check_files.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <iterator>

#include "files/check_route.h"
#include "files/document.h"
#include "files/read_conditions.h"
#include "files/read_consents.h"
#include "files/read_contact_line.h"
#include "files/read_day.h"
#include "files/read_defects.h"
#include "files/read_measured_record.h"
#include "files/read_network.h"
#include "files/read_pantograph_model.h"
#include "files/read_practice_cases.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_run.h"
#include "files/read_speed_table.h"
#include "files/read_train.h"
#include "files/read_what_if.h"
#include "judging/separation_rule.h"
#include "line/compose_route.h"
#include "requests/check_separations.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

struct OpenedFile {
  CheckedFile checked;
  std::optional<SourceText> source;
};

/// A route that was given, with the file it stands in.
struct GivenRoute {
  Route route;
  std::string path;
};

OpenedFile open(const std::string& path) {
  OpenedFile file;
  file.checked.path = path;
  Diagnostics& mistakes = file.checked.mistakes;
  file.source = load_text(path, mistakes);
  if (!file.source) {
    return file;
  }
  if (const auto root = parse_toml(*file.source, mistakes)) {
    file.checked.kind = kind_of_file(*root, path, mistakes);
  }
  if (file.checked.kind) {
    mistakes.clear();  // of the first look at its kind; reading it says the same again
  }
  return file;
}

/// The input files of a folder and of its folders, by name.
std::vector<std::string> files_in(const std::string& folder, std::string& wrong) {
  std::vector<std::string> paths;
  std::error_code error;
  fs::recursive_directory_iterator at(folder, error);
  while (!error && at != fs::recursive_directory_iterator()) {
    const bool hidden = at->path().filename().string().starts_with('.');
    std::error_code unsaid;
    if (hidden) {
      at.disable_recursion_pending();
    } else if (at->path().extension() == ".toml" && at->is_regular_file(unsaid)) {
      paths.push_back(at->path().lexically_normal().string());
    }
    at.increment(error);
  }
  if (error) {
    wrong = fmt::format("this folder cannot be read: {}", error.message());
  } else if (paths.empty()) {
    wrong = "there is no file in this folder whose name ends in .toml";
  }
  std::ranges::sort(paths);
  return paths;
}

std::vector<OpenedFile> open_all(const std::vector<std::string>& paths) {
  std::vector<OpenedFile> files;
  for (const std::string& path : paths) {
    std::error_code unsaid;
    if (!fs::is_directory(path, unsaid)) {
      files.push_back(open(path));
      continue;
    }
    std::string wrong;
    for (const std::string& inside : files_in(path, wrong)) {
      files.push_back(open(inside));
    }
    if (!wrong.empty()) {
      OpenedFile& folder = files.emplace_back();
      folder.checked.path = path;
      folder.checked.mistakes.push_back({{.file = path}, std::move(wrong)});
    }
  }
  return files;
}

std::vector<GivenRoute> routes_of(const std::vector<OpenedFile>& files) {
  std::vector<GivenRoute> routes;
  for (const OpenedFile& file : files) {
    if (file.checked.kind == FileKind::route) {
      Diagnostics said_elsewhere;
      if (auto route = read_route(*file.source, said_elsewhere)) {
        routes.push_back({std::move(*route), file.checked.path});
      }
    }
  }
  return routes;
}

/// What of the stock is right.
Stock check_stock(std::vector<OpenedFile>& files) {
  std::vector<SourceText> sources;
  for (const OpenedFile& file : files) {
    const bool again =
        std::ranges::find(sources, file.checked.path, &SourceText::file) != sources.end();
    if (file.checked.kind == FileKind::stock && !again) {
      sources.push_back(*file.source);
    }
  }
  Diagnostics found;
  Stock stock = read_stock(sources, found, PantographTypes::not_looked_up);
  const bool no_types = stock.pantograph_ids.empty();
  if (!no_types) {
    found.clear();
    stock = read_stock(sources, found);
  }
  for (OpenedFile& file : files) {
    if (file.checked.kind == FileKind::stock) {
      std::ranges::copy_if(found, std::back_inserter(file.checked.mistakes),
                           [&file](const Diagnostic& diagnostic) {
                             return diagnostic.place.file == file.checked.path;
                           });
      if (no_types) {
        file.checked.remark =
            "pantograph types it may name were not looked up: no file that has any was given";
      }
    }
  }
  return stock;
}

/// Books are added to the built-in one in any order in which all that can be added are: one may
/// change what another one says first.
RuleBook check_rule_books(std::vector<OpenedFile>& files) {
  RuleBook books = built_in_rule_book();
  std::vector<OpenedFile*> left;
  for (OpenedFile& file : files) {
    if (file.checked.kind == FileKind::rule_book) {
      left.push_back(&file);
    }
  }
  for (std::size_t before = left.size() + 1; left.size() < before;) {
    before = left.size();
    std::erase_if(left, [&books](OpenedFile* file) {
      file->checked.mistakes.clear();
      auto longer = add_rule_book(books, *file->source, std::nullopt, file->checked.mistakes);
      if (longer) {
        books = std::move(*longer);
      }
      return longer.has_value();
    });
  }
  return books;
}

Diagnostics mistakes_with(const SourceText& source, const Route* route) {
  Diagnostics mistakes;
  read_conditions(source, route, mistakes);
  return mistakes;
}

/// What stands behind "section looked up in": `route 'harl-ostry' (routes/harl-ostry.toml)`.
std::string named(const GivenRoute& given) {
  return fmt::format("route '{}' ({})", given.route.id, given.path);
}

/// Conditions for networks: what they name is looked up where one network was given.
void check_network_conditions(OpenedFile& file, const std::vector<OpenedFile>& files) {
  std::vector<Network> networks;
  for (const OpenedFile& other : files) {
    Diagnostics said_elsewhere;
    if (other.checked.kind == FileKind::network) {
      if (auto network = read_network(*other.source, said_elsewhere)) {
        networks.push_back(std::move(*network));
      }
    }
  }
  read_network_conditions(*file.source, networks.size() == 1 ? &networks.front() : nullptr,
                          file.checked.mistakes);
  if (networks.size() != 1) {
    file.checked.remark =
        networks.empty()
            ? "lines, sections and regions that it names were not looked up: no network was given"
            : "lines, sections and regions that it names were not looked up: several networks were "
              "given";
  }
}

void check_conditions(OpenedFile& file, const std::vector<GivenRoute>& routes) {
  CheckedFile& checked = file.checked;
  checked.mistakes = mistakes_with(*file.source, nullptr);
  if (!names_sections(*file.source)) {
    return;
  }
  if (routes.empty()) {
    checked.remark = "sections that it names were not looked up: no route was given";
    return;
  }
  const std::size_t without_route = checked.mistakes.size();
  std::vector<std::string> fitting;
  const GivenRoute* nearest = nullptr;
  for (const GivenRoute& given : routes) {
    Diagnostics mistakes = mistakes_with(*file.source, &given.route);
    if (mistakes.size() == without_route) {
      fitting.push_back(named(given));
      checked.routes.push_back(given.route.id);
    }
    if (nearest == nullptr || mistakes.size() < checked.mistakes.size()) {
      nearest = &given;
      checked.mistakes = std::move(mistakes);
    }
  }
  if (fitting.size() == 1) {
    checked.remark = fmt::format("its sections are those of {}", fitting.front());
  } else if (fitting.size() > 1) {
    checked.remark = fmt::format(
        "it is not clear which route is meant, its sections are on each of {}; to say which, check "
        "it with that route alone: panup check {} ROUTE",
        fmt::join(fitting, ", "), checked.path);
  } else if (routes.size() > 1) {
    checked.mistakes.push_back(
        {checked.mistakes.back().place,
         fmt::format("none of the {} routes given has all sections that this file names; {} lacks "
                     "fewest",
                     routes.size(), named(*nearest))});
  }
}

void remark_on_separations(std::vector<OpenedFile>& files, const std::vector<GivenRoute>& routes,
                           const Stock& stock, double strips_not_stated_m) {
  for (OpenedFile& file : files) {
    const auto given = std::ranges::find(routes, file.checked.path, &GivenRoute::path);
    if (file.checked.kind == FileKind::route && given != routes.end()) {
      file.checked.remark = separation_remark(given->route, stock, strips_not_stated_m);
    }
  }
}

/// What sections name by a contact line type that has no file in the folder of the route: a plan
/// then knows nothing by the mechanics there, which is right for a line without data and wrong for
/// one that is misspelt.
Diagnostics notices_on_contact_lines(const Route& route, const std::string& folder) {
  Diagnostics notices;
  if (folder.empty()) {
    return notices;
  }
  std::vector<std::string> known;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (entry.path().extension() != ".toml") {
      continue;
    }
    Diagnostics said_elsewhere;
    const auto line = read_contact_line_file(entry.path().string(), said_elsewhere);
    known.push_back(line ? line->id : entry.path().stem().string());
  }
  if (known.empty()) {
    return notices;  // no data of any line, as of a route that is looked at by itself
  }
  std::ranges::sort(known);
  const auto lower = [](std::string text) {
    std::ranges::transform(text, text.begin(), [](char letter) {
      return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    });
    return text;
  };
  for (const Section& section : route.sections) {
    const bool found = std::ranges::any_of(
        known, [&](const std::string& id) { return lower(id) == lower(section.contact_line); });
    if (!section.contact_line.empty() && !found) {
      notices.push_back(
          {section.place,
           fmt::format("the mechanics knows nothing of section '{}': {}", section.id,
                       not_found_text(fmt::format("contact line in {} called", folder),
                                      section.contact_line, known))});
    }
  }
  return notices;
}

/// Reads a day, and asks whether the files that it names are there; what is in them is for a check
/// of them, and for `panup day`, to say.
void check_day(const SourceText& source, Diagnostics& mistakes) {
  const FileSource files = files_on_disk();
  const auto day = read_day(source, files, mistakes);
  if (!day) {
    return;
  }
  const auto look_for = [&](const FileNamed& named) {
    if (!files.has(named.path)) {
      mistakes.push_back({named.place, fmt::format("{}: there is no such file", named.path)});
    }
  };
  for (const std::vector<FileNamed>* const list : {&day->rules, &day->consents, &day->defects}) {
    std::ranges::for_each(*list, look_for);
  }
  if (day->conditions) {
    look_for(*day->conditions);
  }
  for (const DayTrain& train : day->trains) {
    for (const FileNamed* const named : {&train.train, &train.route, &train.run}) {
      if (!named->path.empty()) {
        look_for(*named);
      }
    }
    if (train.conditions) {
      look_for(*train.conditions);
    }
  }
}

/// Reports the files that are named and are not there.
void check_named(const std::vector<FileNamed>& all, Diagnostics& mistakes) {
  const FileSource files = files_on_disk();
  for (const FileNamed& named : all) {
    if (!files.has(named.path)) {
      mistakes.push_back({named.place, fmt::format("{}: there is no such file", named.path)});
    }
  }
}

/// Reads what may be another way of a day, and asks whether the files that it names are there.
void check_what_if(const SourceText& source, Diagnostics& mistakes) {
  if (const auto what_if = read_what_if(source, mistakes)) {
    check_named(files_named_by(*what_if), mistakes);
  }
}

/// The same of cases of practice.
void check_practice_cases(const SourceText& source, Diagnostics& mistakes) {
  if (const auto cases = read_practice_cases(source, mistakes)) {
    check_named(files_named_by(*cases), mistakes);
  }
}

/// Composes the ways that a network names, as far as that is possible without a train: one that
/// Looks at the ways of a network too; where one turns back is left to a train without a length.
void check_network(const SourceText& source, CheckedFile& checked) {
  const auto network = read_network(source, checked.mistakes);
  if (!network) {
    return;
  }
  for (const NetworkLine& line : network->lines) {
    std::ranges::move(notices_on(line.track), std::back_inserter(checked.notices));
    std::ranges::move(notices_on_contact_lines(line.track, network->contact_line_folder),
                      std::back_inserter(checked.notices));
  }
  for (const NetworkWay& way : network->ways) {
    compose_route(*network, way, turns_of(*network, way), checked.mistakes);
  }
}

/// Reads a run, and asks whether the files that it names are there.
void check_run(const SourceText& source, Diagnostics& mistakes) {
  if (const auto run = read_run(source, mistakes)) {
    check_named({run->network, run->train}, mistakes);
  }
}

void check_alone(OpenedFile& file) {
  CheckedFile& checked = file.checked;
  switch (*checked.kind) {
    case FileKind::stock:
    case FileKind::rule_book:
    case FileKind::conditions:
      break;  // with others of their kind, or with the routes
    case FileKind::train:
      if (const auto read = read_train_file(checked.path, checked.mistakes)) {
        checked.notices = notices_on(read->train);
      }
      break;
    case FileKind::route:
      if (const auto route = read_route(*file.source, checked.mistakes)) {
        checked.notices = notices_on(*route);
        std::ranges::move(notices_on_contact_lines(*route, route->contact_line_folder),
                          std::back_inserter(checked.notices));
      }
      break;
    case FileKind::contact_line:
      read_contact_line(*file.source, checked.mistakes);
      break;
    case FileKind::pantograph_model:
      read_pantograph_model(*file.source, checked.mistakes);
      break;
    case FileKind::consents:
      read_consents(*file.source, checked.mistakes);
      break;
    case FileKind::measured_force:
      read_measured_record(*file.source, checked.mistakes);
      break;
    case FileKind::speed_table:
      read_speed_table(*file.source, checked.mistakes);
      break;
    case FileKind::day:
      check_day(*file.source, checked.mistakes);
      break;
    case FileKind::defects:
      read_defects(*file.source, checked.mistakes);
      break;
    case FileKind::what_if:
      check_what_if(*file.source, checked.mistakes);
      break;
    case FileKind::network:
      check_network(*file.source, checked);
      break;
    case FileKind::run:
      check_run(*file.source, checked.mistakes);
      break;
    case FileKind::practice_cases:
      check_practice_cases(*file.source, checked.mistakes);
      break;
  }
}

}  // namespace

std::vector<CheckedFile> check_files(const std::vector<std::string>& paths) {
  std::vector<OpenedFile> files = open_all(paths);
  const std::vector<GivenRoute> routes = routes_of(files);
  for (OpenedFile& file : files) {
    if (file.checked.kind == FileKind::conditions && is_for_networks(*file.source)) {
      check_network_conditions(file, files);
    } else if (file.checked.kind == FileKind::conditions) {
      check_conditions(file, routes);
    } else if (file.checked.kind) {
      check_alone(file);
    }
  }
  const Stock stock = check_stock(files);
  const RuleBook books = check_rule_books(files);
  if (!stock.vehicles.empty()) {
    remark_on_separations(files, routes, stock, strips_not_stated_m(books));
  }
  std::vector<CheckedFile> checked;
  for (OpenedFile& file : files) {
    sort_by_place(file.checked.mistakes);
    sort_by_place(file.checked.notices);
    checked.push_back(std::move(file.checked));
  }
  return checked;
}

}  // namespace panup
