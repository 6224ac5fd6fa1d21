#include "stock/consist_changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>

namespace panup {

namespace {

constexpr std::array<std::string_view, 6> change_names{"detach", "attach",      "run round",
                                                       "turn",   "dead in tow", "working"};

bool is_named(const ConsistItem& item, const ConsistChange& change) {
  if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
    return std::ranges::find(change.vehicles, vehicle->number) != change.vehicles.end();
  }
  return std::ranges::find(change.loads, std::get<LoadGroup>(item).name) != change.loads.end();
}

/// Whether all that the change names is in the train; says what is not.
bool all_there(const ConsistChange& change, Train& train, Diagnostics& diagnostics) {
  bool all = true;
  for (const int number : change.vehicles) {
    if (vehicle_numbered(train, number) == nullptr) {
      diagnostics.push_back(
          {change.place, fmt::format("the train has no vehicle {} here", number)});
      all = false;
    }
  }
  for (const std::string& name : change.loads) {
    const bool there = std::ranges::any_of(train.consist, [&name](const ConsistItem& item) {
      const auto* const load = std::get_if<LoadGroup>(&item);
      return load != nullptr && load->name == name;
    });
    if (!there) {
      diagnostics.push_back({change.place, fmt::format("the train has no load '{}' here", name)});
      all = false;
    }
  }
  return all;
}

/// Roof lines that join only vehicles that stay where they are.
void uncouple_roof_lines(const ConsistChange& change, Train& train) {
  for (HighVoltageLine& line : train.high_voltage_lines) {
    std::erase_if(line.vehicles, [&change](int number) {
      return std::ranges::find(change.vehicles, number) != change.vehicles.end();
    });
  }
  std::erase_if(train.high_voltage_lines,
                [](const HighVoltageLine& line) { return line.vehicles.size() < 2; });
}

/// As it stands in the list of a train that leaves against its first departure.
ConsistItem seen_from_first_front(ConsistItem item, bool reversed) {
  auto* const vehicle = std::get_if<Vehicle>(&item);
  if (vehicle != nullptr && reversed) {
    vehicle->leading_cab = other(vehicle->leading_cab);
  }
  return item;
}

void attach(const ConsistChange& change, bool reversed, Train& train) {
  std::vector<ConsistItem> attached;
  for (const ConsistItem& item : change.attached) {
    attached.push_back(seen_from_first_front(item, reversed));
  }
  if (reversed) {
    std::ranges::reverse(attached);
  }
  const bool at_begin = change.at_front != reversed;
  train.consist.insert(at_begin ? train.consist.begin() : train.consist.end(), attached.begin(),
                       attached.end());
}

/// What stands at one end goes to the other; the order among them stays, as vehicles that run round
/// coupled keep it.
void run_round(const ConsistChange& change, Train& train, Diagnostics& diagnostics) {
  const auto named = [&change](const ConsistItem& item) { return is_named(item, change); };
  const auto number = std::ranges::count_if(train.consist, named);
  const bool at_begin = std::all_of(train.consist.begin(), train.consist.begin() + number, named);
  const bool at_end = std::all_of(train.consist.end() - number, train.consist.end(), named);
  const bool all = number == std::ssize(train.consist);
  if (all || (!at_begin && !at_end)) {
    diagnostics.push_back(
        {change.place, all ? "all of the train cannot run round itself"
                           : "vehicles that run round stand at one end of the train"});
    return;
  }
  const auto middle = at_begin ? train.consist.begin() + number : train.consist.end() - number;
  std::rotate(train.consist.begin(), middle, train.consist.end());
}

std::string item_words(const ConsistItem& item, const Words& words) {
  if (const auto* const load = std::get_if<LoadGroup>(&item)) {
    return words.say("the load '{}'", load->name);
  }
  const auto& vehicle = std::get<Vehicle>(item);
  const bool named = vehicle.id != fmt::format("vehicle {}", vehicle.number);
  return words.say("vehicle {}, a {}", vehicle.number, vehicle.type->name) +
         (named ? ", " + vehicle.id : "") +
         (vehicle.dead_in_tow ? words.say(", dead in tow") : std::string());
}

}  // namespace

std::string_view name_of(ConsistChangeKind kind) {
  return change_names.at(static_cast<std::size_t>(kind));
}

std::optional<ConsistChangeKind> consist_change_named(std::string_view name) {
  const auto* const found = std::ranges::find(change_names, name);
  return found == change_names.end()
             ? std::nullopt
             : std::optional(static_cast<ConsistChangeKind>(found - change_names.begin()));
}

std::string vehicle_words(const std::vector<int>& numbers, const Train& train, const Words& words) {
  std::vector<std::string> said;
  for (const int number : numbers) {
    const Vehicle* const vehicle = vehicle_numbered(train, number);
    const std::string id = vehicle == nullptr ? std::string() : vehicle->id;
    said.push_back(id.empty() || id == fmt::format("vehicle {}", number)
                       ? std::to_string(number)
                       : fmt::format("{} ({})", number, id));
  }
  return numbers.empty()
             ? std::string()
             : words.say_of(numbers.size(), "vehicle {}", "vehicles {}", words.listed(said));
}

int greatest_vehicle_number(const Train& train) {
  int greatest = 0;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    greatest = vehicle != nullptr ? std::max(greatest, vehicle->number) : greatest;
  }
  return greatest;
}

void change_consist(const ConsistChange& change, bool reversed, Train& train,
                    Diagnostics& diagnostics) {
  if (!all_there(change, train, diagnostics)) {
    return;
  }
  switch (change.kind) {
    case ConsistChangeKind::detach:
      uncouple_roof_lines(change, train);
      std::erase_if(train.consist, [&](const ConsistItem& item) { return is_named(item, change); });
      return;
    case ConsistChangeKind::attach:
      attach(change, reversed, train);
      return;
    case ConsistChangeKind::run_round:
      uncouple_roof_lines(change, train);
      run_round(change, train, diagnostics);
      return;
    case ConsistChangeKind::turn:
      uncouple_roof_lines(change, train);
      for (const int number : change.vehicles) {
        Vehicle& vehicle = *vehicle_numbered(train, number);
        vehicle.leading_cab = other(vehicle.leading_cab);
      }
      return;
    case ConsistChangeKind::dead_in_tow:
    case ConsistChangeKind::working:
      for (const int number : change.vehicles) {
        vehicle_numbered(train, number)->dead_in_tow =
            change.kind == ConsistChangeKind::dead_in_tow;
      }
      return;
  }
}

std::string words_for(const ConsistChange& change, const Train& before, const Words& words) {
  const std::string vehicles = vehicle_words(change.vehicles, before, words);
  switch (change.kind) {
    case ConsistChangeKind::detach: {
      std::vector<std::string> what;
      if (!vehicles.empty()) {
        what.push_back(vehicles);
      }
      for (const std::string& load : change.loads) {
        what.push_back(words.say("the load '{}'", load));
      }
      return words.say("Detach {}", words.listed(what));
    }
    case ConsistChangeKind::attach: {
      std::vector<std::string> what;
      for (const ConsistItem& item : change.attached) {
        what.push_back(item_words(item, words));
      }
      return change.at_front ? words.say("Attach at the front of the train as it leaves: {}",
                                         words.listed(what))
                             : words.say("Attach at the rear of the train as it leaves: {}",
                                         words.listed(what));
    }
    case ConsistChangeKind::run_round:
      return words.say("Run round to the other end: {}", vehicles);
    case ConsistChangeKind::turn:
      return words.say("Turn {}", vehicles);
    case ConsistChangeKind::dead_in_tow:
      return words.say("Dead in tow from here: {}", vehicles);
    case ConsistChangeKind::working:
      return words.say("Working from here: {}", vehicles);
  }
  return {};
}

}  // namespace panup
