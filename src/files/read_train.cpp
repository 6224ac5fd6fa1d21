#include "files/read_train.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "files/document.h"
#include "files/read_consents.h"
#include "files/read_defects.h"
#include "files/read_running_data.h"

namespace panup {

namespace {

std::shared_ptr<const VehicleType> find_type(TomlTable& table, std::string_view key,
                                             const std::string& id, const Stock& stock) {
  const auto known =
      std::ranges::find(stock.vehicles, id, [](const auto& type) { return type->id; });
  if (known != stock.vehicles.end()) {
    return *known;
  }
  // One with mistakes, or of a file that could not be read, has been reported already.
  if (stock.ids_are_complete && !stock.vehicle_ids.contains(id)) {
    table.report_at(key, not_found_text("vehicle type", id, ids_of(stock.vehicle_ids)));
  }
  return nullptr;
}

const ReplacedClass* replaced_class(const std::vector<ReplacedClass>& replaced,
                                    const std::string& id) {
  const auto found = std::ranges::find(replaced, id, &ReplacedClass::id);
  return found == replaced.end() ? nullptr : &*found;
}

/// The type that runs in the place of the one that the file names. What the file states of single
/// pantographs, or of the current, is of the replaced one and no word on this one.
std::shared_ptr<const VehicleType> type_in_place(TomlTable& table, const ReplacedClass& in_place,
                                                 const Stock& stock) {
  for (const std::string_view key :
       {"defective_pantographs", "kept_down_pantographs", "kept_up_pantographs", "current"}) {
    if (table.has(key)) {
      table.report_at(key, fmt::format("'{}' is stated of a {}, and a {} runs in its place; make a "
                                       "train file of the other train and let it replace this one",
                                       key, in_place.id, in_place.by));
    }
  }
  const auto found =
      std::ranges::find(stock.vehicles, in_place.by, [](const auto& type) { return type->id; });
  if (found == stock.vehicles.end()) {
    if (stock.ids_are_complete && !stock.vehicle_ids.contains(in_place.by)) {
      table.report(
          in_place.by_place,
          fmt::format("{}, in the stock files of {}, where it would run in the place of "
                      "a {}",
                      not_found_text("vehicle type", in_place.by, ids_of(stock.vehicle_ids)),
                      table.file(), in_place.id));
    }
    return nullptr;
  }
  if ((*found)->kind == VehicleKind::wagon_group) {
    table.report(in_place.by_place,
                 fmt::format("'{}' is a wagon group and cannot run in the place of a {}",
                             in_place.by, in_place.id));
    return nullptr;
  }
  return *found;
}

std::optional<double> control_limit_a(const VehicleType* type, EnergySupply supply) {
  if (type == nullptr) {
    return std::nullopt;
  }
  const auto power = std::ranges::find(type->power, supply, &PowerOnSupply::supply);
  return power == type->power.end() ? std::nullopt : power->greatest_current_a;
}

/// `type`: null where it is not known.
std::vector<CurrentDemand> read_demand(TomlTable& table, const VehicleType* type) {
  std::vector<CurrentDemand> demands;
  for (TomlTable& entry : table.tables("current")) {
    const auto system = supply_from(entry, "system", Need::required);
    CurrentDemand demand;
    demand.running_a = entry.number("running_a", {0, 20000}, Need::required).value_or(0);
    demand.standstill_a = entry.number("standstill_a", {0, 5000}, Need::required).value_or(0);
    entry.finish();
    if (!system) {
      continue;
    }
    demand.supply = *system;
    if (std::ranges::find(demands, *system, &CurrentDemand::supply) != demands.end()) {
      entry.report_at("system", fmt::format("{} is given twice", name_of(*system)));
      continue;
    }
    if (const auto limit_a = control_limit_a(type, *system);
        limit_a && demand.running_a > *limit_a) {
      entry.report_at("running_a", fmt::format("it is stated to draw {:g} A, but the control of "
                                               "a {} lets it draw no more than {:g} A",
                                               demand.running_a, type->id, *limit_a));
    }
    demands.push_back(demand);
  }
  return demands;
}

/// Sorts numbers of pantographs; says which there is none of, and that one is named twice.
void tidy_numbers(TomlTable& table, const char* key, const VehicleType& type,
                  std::vector<int>& numbers) {
  const auto count = static_cast<int>(type.pantographs.size());
  for (const int number : numbers) {
    if (number > count) {
      table.report_at(key,
                      fmt::format("'{}' has no pantograph {}; it has {}", type.id, number, count));
    }
  }
  std::ranges::sort(numbers);
  const auto rest = std::ranges::unique(numbers);
  if (!rest.empty()) {
    table.report_at(key, "the same pantograph is named twice");
    numbers.erase(rest.begin(), rest.end());
  }
}

std::optional<Vehicle> read_vehicle(TomlTable& table, int number, const Stock& stock,
                                    const std::vector<ReplacedClass>& replaced,
                                    const ValueSources& sources) {
  Vehicle vehicle;
  vehicle.number = number;
  const auto type_id = table.id("vehicle", Need::required);
  vehicle.id = table.text("id").value_or(fmt::format("vehicle {}", number));
  vehicle.leading_cab =
      static_cast<Cab>(table.whole("leading_cab", 1, 2, Need::required).value_or(1));
  vehicle.dead_in_tow = table.flag("dead_in_tow").value_or(false);
  vehicle.defective = table.wholes("defective_pantographs", 1, 8).value_or(std::vector<int>{});
  vehicle.kept_down = table.wholes("kept_down_pantographs", 1, 8).value_or(std::vector<int>{});
  vehicle.kept_up = table.wholes("kept_up_pantographs", 1, 8).value_or(std::vector<int>{});
  if (type_id) {
    vehicle.type = find_type(table, "vehicle", *type_id, stock);
  }
  const ReplacedClass* const in_place = type_id ? replaced_class(replaced, *type_id) : nullptr;
  if (in_place != nullptr && vehicle.type != nullptr &&
      vehicle.type->kind != VehicleKind::wagon_group) {
    vehicle.type = type_in_place(table, *in_place, stock);
    vehicle.in_place_of = in_place->id;
  }
  vehicle.demand = read_demand(table, vehicle.type.get());
  vehicle.provenance = read_provenance(table, sources);
  vehicle.place = table.place();
  table.finish();
  if (vehicle.type == nullptr) {
    return std::nullopt;
  }
  if (vehicle.type->kind == VehicleKind::wagon_group) {
    table.report_at("vehicle",
                    fmt::format("'{}' is a wagon group; it is named by 'wagons' in an entry "
                                "with 'load'",
                                *type_id));
    return std::nullopt;
  }
  for (const auto& [key, numbers] : {std::pair{"defective_pantographs", &vehicle.defective},
                                     std::pair{"kept_down_pantographs", &vehicle.kept_down},
                                     std::pair{"kept_up_pantographs", &vehicle.kept_up}}) {
    tidy_numbers(table, key, *vehicle.type, *numbers);
  }
  for (const int up : vehicle.kept_up) {
    if (std::ranges::binary_search(vehicle.kept_down, up)) {
      table.report_at("kept_up_pantographs",
                      fmt::format("pantograph {} is ordered up and down", up));
    }
    if (std::ranges::binary_search(vehicle.defective, up)) {
      table.report_at(
          "kept_up_pantographs",
          fmt::format("pantograph {} is defective and stays down; leave it out here, or "
                      "out of 'defective_pantographs'",
                      up));
    }
  }
  if (vehicle.dead_in_tow && !vehicle.kept_up.empty()) {
    table.report_at("kept_up_pantographs",
                    "the vehicle is dead in tow and its pantographs stay down; leave out "
                    "'kept_up_pantographs', or 'dead_in_tow'");
  }
  return vehicle;
}

LoadGroup read_load(TomlTable& table, const Stock& stock, const ValueSources& sources) {
  LoadGroup load;
  load.name = table.text("load", Need::required).value_or("");
  if (const auto nature =
          table.word("nature", {"ordinary", "dangerous", "sensitive"}, Need::required)) {
    load.nature = *nature == "dangerous"   ? LoadNature::dangerous
                  : *nature == "sensitive" ? LoadNature::sensitive
                                           : LoadNature::ordinary;
  }
  const auto length = table.number("length_m", {0, 3000, true});
  const auto wagons = table.id("wagons");
  load.length_m = length.value_or(0);
  load.highest_speed_kmh = table.number("highest_speed_kmh", {1, 400});
  load.running = read_running_data(table, 30'000);
  load.control_car = table.flag("control_car").value_or(false);
  load.provenance = read_provenance(table, sources);
  load.place = table.place();
  if (table.has("length_m") == table.has("wagons")) {
    table.report(table.place(), table.has("wagons")
                                    ? "a load has either 'length_m' or 'wagons', not both"
                                    : "a load needs 'length_m', or 'wagons' with the id of a wagon "
                                      "group type");
  }
  if (wagons) {
    const auto type = find_type(table, "wagons", *wagons, stock);
    if (type != nullptr && type->kind != VehicleKind::wagon_group) {
      table.report_at("wagons", fmt::format("'{}' is a {}; expected a wagon group", *wagons,
                                            name_of(type->kind)));
    } else if (type != nullptr) {
      load.length_m = type->length_m;
      if (!load.running.mass_t) {
        load.running.mass_t = type->running.mass_t;
      }
      if (!load.running.resistance) {
        load.running.resistance = type->running.resistance;
      }
      if (load.highest_speed_kmh.value_or(type->highest_speed_kmh) >= type->highest_speed_kmh) {
        load.highest_speed_kmh = type->highest_speed_kmh;
        std::erase_if(load.provenance.own,
                      [](const auto& own) { return own.first == "highest_speed_kmh"; });
        load.provenance.own.emplace_back("highest_speed_kmh",
                                         source_of(type->provenance, "highest_speed_kmh"));
      }
    }
  }
  table.finish();
  return load;
}

HighVoltageLine read_high_voltage_line(TomlTable& table) {
  HighVoltageLine line;
  line.vehicles =
      table.wholes("vehicles", 1, static_cast<int>(most_pantographs)).value_or(std::vector<int>{});
  if (!table.has("vehicles")) {
    table.report(table.place(), "key 'vehicles' is missing: the numbers of those it joins");
  }
  line.can_be_opened = table.flag("can_be_opened").value_or(false);
  line.place = table.place();
  table.finish();
  return line;
}

void read_release(TomlTable& table, Release& release) {
  release.train_number = table.text("train_number").value_or("");
  if (const auto day = table.date("date")) {
    release.date = day_text(*day);
  }
  release.days = table.text("days").value_or("");
  if (table.has("date") && table.has("days")) {
    table.report_at("days", "a train runs on one 'date' or on 'days', not both");
  }
  release.issue = table.whole("issue", 1, 9999);
  release.made_by = table.text("made_by").value_or("");
  release.checked_by = table.text("checked_by").value_or("");
  release.released_by = table.text("released_by").value_or("");
  if (const auto day = table.date("holds_until")) {
    release.holds_until = day_text(*day);
  }
  if (!release.date.empty() && !release.holds_until.empty() && release.date > release.holds_until) {
    table.report_at("holds_until",
                    fmt::format("'holds_until' is {}, and the train runs on {}; expected that day "
                                "or a later one",
                                release.holds_until, release.date));
  }
  table.finish();
}

Deviation read_deviation(TomlTable& table) {
  Deviation deviation;
  deviation.what = table.text("what", Need::required).value_or("");
  deviation.by = table.text("by", Need::required).value_or("");
  deviation.reason = table.text("reason", Need::required).value_or("");
  deviation.place = table.place();
  table.finish();
  return deviation;
}

/// `vehicle_count`: none where not every vehicle could be read.
void check_high_voltage_line(TomlTable& entry, HighVoltageLine& line,
                             std::optional<int> vehicle_count) {
  if (line.vehicles.empty()) {
    return;
  }
  std::ranges::sort(line.vehicles);
  const auto rest = std::ranges::unique(line.vehicles);
  if (!rest.empty()) {
    entry.report_at("vehicles", "the same vehicle is named twice");
    line.vehicles.erase(rest.begin(), rest.end());
  } else if (line.vehicles.size() < 2) {
    entry.report_at("vehicles", "a high-voltage line joins at least two vehicles");
  } else if (vehicle_count && line.vehicles.back() > *vehicle_count) {
    entry.report_at("vehicles", fmt::format("there is no vehicle {}; the train has {}",
                                            line.vehicles.back(), *vehicle_count));
  } else if (line.vehicles.back() - line.vehicles.front() + 1 !=
             static_cast<int>(line.vehicles.size())) {
    entry.report_at("vehicles",
                    "a high-voltage line joins vehicles that follow each other, without leaving "
                    "one out");
  }
}

void check_couplers(TomlTable& entry, const HighVoltageLine& line, const Train& train) {
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->type->high_voltage_coupler == false &&
        std::ranges::find(line.vehicles, vehicle->number) != line.vehicles.end()) {
      entry.report_at("vehicles", fmt::format("vehicle {}, a {}, has no high-voltage coupler",
                                              vehicle->number, vehicle->type->id));
    }
  }
}

/// Takes up what a run says in place of the file: its number, its day, the numbers of its vehicles.
void take_up_run(TomlTable& table, const TrainRun& run, int vehicle_count, Train& train,
                 Diagnostics& diagnostics) {
  Release& release = train.release;
  release.train_number = run.number.empty() ? release.train_number : run.number;
  if (!run.date.empty() || !run.days.empty()) {
    release.date = run.date;
    release.days = run.days;
  }
  if (!release.date.empty() && !release.holds_until.empty() && release.date > release.holds_until) {
    diagnostics.push_back(
        {run.place, fmt::format("the train runs on {}, and what is handed out for it holds until "
                                "{} ('holds_until' in {})",
                                release.date, release.holds_until, table.file())});
  }
  if (run.vehicles.empty()) {
    return;
  }
  if (static_cast<int>(run.vehicles.size()) != vehicle_count) {
    diagnostics.push_back(
        {run.place, fmt::format("{} vehicle number{} given, and the train of {} has {} vehicle{}",
                                run.vehicles.size(), run.vehicles.size() == 1 ? " is" : "s are",
                                table.file(), vehicle_count, vehicle_count == 1 ? "" : "s")});
    return;
  }
  for (ConsistItem& item : train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item)) {
      vehicle->id = run.vehicles[static_cast<std::size_t>(vehicle->number - 1)];
    }
  }
}

/// A file that another one names.
struct NamedFile {
  std::string name;
  SourcePlace place;
};

/// The files a train file names under a key. Says nothing of mistakes: `read_train` does.
std::vector<NamedFile> files_named(std::string_view key, const SourceText& source) {
  Diagnostics said_again;
  const auto root = parse_toml(source, said_again);
  auto table = root ? root_of(*root, source.file, FileKind::train, said_again) : std::nullopt;
  const auto names = table ? table->texts(key) : std::nullopt;
  if (!names || !said_again.empty()) {
    return {};
  }
  std::vector<NamedFile> files;
  for (std::size_t i = 0; i < names->size(); ++i) {
    files.push_back({(*names)[i], table->place_of(key, i)});
  }
  return files;
}

void check_train(TomlTable& table, const Train& train, bool complete) {
  std::size_t pantographs = 0;
  bool any_working = false;
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      pantographs += vehicle->type->pantographs.size();
      any_working |= !vehicle->dead_in_tow;
    }
  }
  if (pantographs > most_pantographs) {
    table.report_at("consist",
                    fmt::format("the train has {} pantographs; at most {} can be planned",
                                pantographs, most_pantographs));
  }
  if (complete && !any_working) {
    table.report_at("consist", "the train has no working vehicle with a pantograph");
  }
}

}  // namespace

ReadConsist read_consist(std::vector<TomlTable> entries, const Stock& stock, int& number,
                         const std::vector<ReplacedClass>& replaced, const ValueSources& sources) {
  ReadConsist consist;
  for (TomlTable& entry : entries) {
    if (entry.has("load") || entry.has("wagons") || entry.has("nature")) {
      consist.items.emplace_back(read_load(entry, stock, sources));
    } else if (auto vehicle = read_vehicle(entry, ++number, stock, replaced, sources)) {
      consist.items.emplace_back(std::move(*vehicle));
    } else {
      consist.complete = false;
    }
  }
  return consist;
}

std::optional<Train> read_train(const SourceText& source, const Stock& stock,
                                Diagnostics& diagnostics, const TrainRun* run,
                                const std::vector<ReplacedClass>& replaced) {
  const std::size_t mistakes = diagnostics.size();
  const auto root = parse_toml(source, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  auto table = root_of(*root, source.file, FileKind::train, diagnostics);
  if (!table) {
    return std::nullopt;
  }
  Train train;
  train.id = table->id("id", Need::required).value_or("");
  train.name = table->text("name", Need::required).value_or("");
  train.operated_by = table->text("operated_by").value_or("");
  train.invented = table->flag("invented").value_or(false);
  if (const auto names = table->texts("stock", Need::required); names && names->empty()) {
    table->report_at("stock", "'stock' is empty; it names the files that have the vehicle types");
  }
  train.highest_speed_kmh = table->number("highest_speed_kmh", {1, 400});
  train.acceleration_ms2 =
      table->number("acceleration_ms2", {least_acceleration_ms2, 2}, Need::required).value_or(0);
  train.braking_ms2 =
      table->number("braking_ms2", {least_acceleration_ms2, 2}, Need::required).value_or(0);
  const ValueSources sources = read_value_sources(*table);
  int number = 0;
  ReadConsist consist =
      read_consist(table->tables("consist", Need::required), stock, number, replaced, sources);
  train.consist = std::move(consist.items);
  const bool complete = consist.complete;
  for (TomlTable& entry : table->tables("consent")) {
    train.consents.push_back(read_consent(entry));
    entry.finish();
  }
  if (const auto names = table->texts("consents"); names && names->empty()) {
    table->report_at("consents", "'consents' is empty; leave it out where there is no such file");
  }
  for (TomlTable& entry : table->tables("high_voltage_line")) {
    HighVoltageLine line = read_high_voltage_line(entry);
    check_high_voltage_line(entry, line, complete ? std::optional(number) : std::nullopt);
    check_couplers(entry, line, train);
    train.high_voltage_lines.push_back(std::move(line));
  }
  if (auto entry = table->table("release")) {
    read_release(*entry, train.release);
  }
  for (TomlTable& entry : table->tables("deviation")) {
    train.release.deviations.push_back(read_deviation(entry));
  }
  train.provenance = read_provenance(*table, sources);
  train.place = table->place();
  check_train(*table, train, complete);
  if (run != nullptr) {
    take_up_run(*table, *run, number, train, diagnostics);
  }
  leave_out_by_day(train, {});
  table->finish();
  return diagnostics.size() == mistakes && complete ? std::optional(std::move(train))
                                                    : std::nullopt;
}

Diagnostics notices_on(const Train& train) {
  Diagnostics notices;
  if (train.highest_speed_kmh) {
    return notices;
  }
  for (const ConsistItem& item : train.consist) {
    const auto* const load = std::get_if<LoadGroup>(&item);
    if (load != nullptr && !load->highest_speed_kmh) {
      notices.push_back(
          {load->place,
           fmt::format("how fast the load '{}' may run is not stated: add 'highest_speed_kmh' to "
                       "it, or to the train; else only a rule book can limit it, by rule "
                       "'vehicle-speed' with 'load_not_stated_kmh'",
                       load->name)});
    }
  }
  return notices;
}

namespace {

/// The texts of files, each read once. What cannot be read is reported where another file names it.
struct NamedTexts {
  std::vector<std::string> paths;
  std::vector<SourceText> texts;  ///< of those that could be read
  bool all_loaded = true;

  /// `place`: nothing where no file names it.
  void add(const std::string& path, const std::optional<SourcePlace>& place,
           const FileSource& files, Diagnostics& diagnostics) {
    if (std::ranges::find(paths, path) != paths.end()) {
      return;
    }
    paths.push_back(path);
    Diagnostics of_loading;
    if (auto source = files.load(path, of_loading)) {
      texts.push_back(std::move(*source));
    }
    for (const Diagnostic& mistake : of_loading) {
      all_loaded = false;
      diagnostics.push_back(place ? Diagnostic{*place, to_line(mistake)} : mistake);
    }
  }
};

NamedTexts texts_named(std::string_view key, const SourceText& source, const FileSource& files,
                       Diagnostics& diagnostics) {
  NamedTexts named;
  for (const NamedFile& file : files_named(key, source)) {
    named.add(path_beside(source.file, file.name), file.place, files, diagnostics);
  }
  return named;
}

void add_named(NamedTexts& named, const std::vector<std::string>& paths, const FileSource& files,
               Diagnostics& diagnostics) {
  for (const std::string& path : paths) {
    named.add(std::filesystem::path(path).lexically_normal().string(), std::nullopt, files,
              diagnostics);
  }
}

}  // namespace

std::optional<TrainFiles> read_train_file(const std::string& path, Diagnostics& diagnostics,
                                          const FileSource& files, const BesideTrain& beside) {
  const std::size_t mistakes = diagnostics.size();
  const auto source = files.load(path, diagnostics);
  if (!source) {
    return std::nullopt;
  }
  TrainFiles read;
  NamedTexts of_stock = texts_named("stock", *source, files, diagnostics);
  add_named(of_stock, beside.stock, files, diagnostics);
  Stock stock = beside.read_stock(
      of_stock.texts, diagnostics,
      of_stock.all_loaded ? PantographTypes::among_these : PantographTypes::not_looked_up);
  stock.ids_are_complete = stock.ids_are_complete && of_stock.all_loaded && !of_stock.paths.empty();
  read.stock_paths = std::move(of_stock.paths);
  auto train =
      read_train(*source, stock, diagnostics, beside.run ? &*beside.run : nullptr, beside.replaced);
  NamedTexts of_consents = texts_named("consents", *source, files, diagnostics);
  add_named(of_consents, beside.consents, files, diagnostics);
  for (const SourceText& text : of_consents.texts) {
    const auto shared = read_consents(text, diagnostics);
    if (train && shared) {
      take_up(*shared, *train);
    }
  }
  NamedTexts of_defects;
  add_named(of_defects, beside.defects, files, diagnostics);
  for (const SourceText& text : of_defects.texts) {
    const auto defects = read_defects(text, diagnostics);
    if (train && defects) {
      take_up(*defects, *train, diagnostics);
    }
  }
  if (!train || diagnostics.size() > mistakes) {
    return std::nullopt;
  }
  leave_out_by_day(*train, beside.words);
  train->defect_files = of_defects.paths;
  read.defect_paths = std::move(of_defects.paths);
  train->consent_files = of_consents.paths;
  read.consent_paths = std::move(of_consents.paths);
  read.train = std::move(*train);
  read.stock = std::move(stock);
  return read;
}

}  // namespace panup
