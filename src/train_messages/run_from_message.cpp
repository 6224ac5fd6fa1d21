#include "train_messages/run_from_message.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/cell_values.h"
#include "base/write_toml.h"
#include "files/read_run.h"

namespace panup {

namespace {

/// By which the reader of runs names the text that it checks.
constexpr std::string_view own_run = "the run of the message";

TomlEntry run_entry(std::string key, decltype(TomlNode::value) value) {
  return {.key = std::move(key), .node = {.value = std::move(value)}};
}

TomlNode change_named(std::string what, TomlEntries more) {
  more.insert(more.begin(), run_entry("what", std::move(what)));
  return {.value = std::move(more)};
}

class RunMaker {
 public:
  RunMaker(const CompositionMessage& message, const StockTable& series, const Stock& stock,
           const FromMessage& how, const AsRun& as_run, Diagnostics& mistakes, Diagnostics& notes)
      : message_(message),
        series_(series),
        stock_(stock),
        how_(how),
        as_run_(as_run),
        mistakes_(mistakes),
        notes_(notes) {}

  std::optional<RunFromMessage> make() {
    const std::size_t before = mistakes_.size();
    read_places();
    if (!make_trains()) {
      return std::nullopt;
    }
    number_first_train();
    for (std::size_t i = 1; i < trains_.size(); ++i) {
      add_stop(i);
    }
    if (mistakes_.size() != before) {
      return std::nullopt;
    }
    RunFromMessage made{
        .train = trains_.front(),
        .text = "# Made by panup from-message, with the train that it names.\n\n" + to_toml(root()),
        .changes = changes_};
    check_by_reader(made.text);
    return mistakes_.size() == before ? std::optional(std::move(made)) : std::nullopt;
  }

 private:
  void report(std::size_t section, std::string text) {
    mistakes_.push_back({message_.sections[section].place, std::move(text)});
  }

  void read_places() {
    for (const TableRow& row : as_run_.places->rows) {
      const auto report_cell = [&](std::string_view heading, const std::string& text) {
        mistakes_.push_back(at_cell(*as_run_.places, row, heading, text));
      };
      for (const std::string_view heading : {"country", "code", "place"}) {
        if (!says(*as_run_.places, row, heading)) {
          report_cell(heading, fmt::format("'{}' is empty", heading));
        }
      }
      const std::string& place = as_run_.places->cell(row, "place");
      if (!place.empty() && place_of(*as_run_.network, place) == nullptr) {
        report_cell("place", fmt::format("the network has no place '{}'", place));
      }
      const auto [known, is_new] = places_.emplace(
          as_run_.places->cell(row, "country") + " " + as_run_.places->cell(row, "code"), place);
      if (!is_new) {
        report_cell("code", fmt::format("{} stands in the table already", known->first));
      }
    }
  }

  /// A train of each section; false where one has mistakes.
  bool make_trains() {
    std::set<std::string, std::less<>> cabs_used;
    for (std::size_t i = 0; i < message_.sections.size(); ++i) {
      FromMessage of_section = how_;
      of_section.section = i + 1;
      of_section.whole_journey = true;
      // What is wrong with the table of series is told of the first.
      Diagnostics of_train;
      auto train = train_from_message(message_, series_, stock_, of_section, of_train, notes_);
      for (Diagnostic& mistake : of_train) {
        const bool told = std::ranges::any_of(
            mistakes_, [&](const Diagnostic& other) { return to_line(other) == to_line(mistake); });
        if (!told) {
          mistakes_.push_back(std::move(mistake));
        }
      }
      if (train) {
        cabs_used.insert(train->cabs_used.begin(), train->cabs_used.end());
        trains_.push_back(std::move(*train));
      }
    }
    if (trains_.size() != message_.sections.size()) {
      return false;
    }
    for (const auto& [vehicle, cab] : how_.leading_cabs) {
      if (!cabs_used.contains(vehicle)) {
        report(0,
               fmt::format("--cab {}: no section of the journey has a vehicle of this number; for "
                           "a run, vehicles are named by their numbers of 12 digits",
                           vehicle));
      }
    }
    return true;
  }

  void number_first_train() {
    for (const MessageItem& item : trains_.front().items) {
      if (!item.is_load) {
        numbers_[item.key] = ++greatest_number_;
      }
    }
  }

  static bool has(const std::vector<MessageItem>& items, const MessageItem& wanted) {
    return std::ranges::find(items, wanted.key, &MessageItem::key) != items.end();
  }

  static std::vector<std::string> kept_keys(const std::vector<MessageItem>& items,
                                            const std::vector<MessageItem>& others) {
    std::vector<std::string> keys;
    for (const MessageItem& item : items) {
      if (has(others, item)) {
        keys.push_back(item.key);
      }
    }
    return keys;
  }

  /// Whether the change from the section before can be told; says what cannot.
  bool can_be_told(std::size_t section) {
    const auto& before = trains_[section - 1].items;
    const auto& then = trains_[section].items;
    const std::string where = message_.sections[section].from;
    const auto another_load = [](const std::vector<MessageItem>& items,
                                 const std::vector<MessageItem>& others) {
      return std::ranges::any_of(
          items, [&](const MessageItem& item) { return item.is_load && !has(others, item); });
    };
    const std::string otherwise =
        "; make a train of each section with --section, and write the run by hand";
    if (another_load(before, then) || another_load(then, before)) {
      report(section, fmt::format("the wagons are not the same before and behind {}, or have no "
                                  "numbers (WagonNumberFreight) to tell by{}",
                                  where, otherwise));
      return false;
    }
    const std::vector<std::string> kept = kept_keys(before, then);
    if (kept.empty()) {
      report(section,
             fmt::format("no vehicle and no wagon stays in the train at {}{}", where, otherwise));
      return false;
    }
    if (kept != kept_keys(then, before)) {
      report(section,
             fmt::format("what stays in the train at {} leaves in another order, as where it turns "
                         "back or a locomotive runs round: a message does not say how{}",
                         where, otherwise));
      return false;
    }
    const auto first = std::ranges::find(then, kept.front(), &MessageItem::key);
    const auto last = std::ranges::find(then, kept.back(), &MessageItem::key);
    if (std::any_of(first, last, [&](const MessageItem& item) { return !has(before, item); })) {
      report(section, fmt::format("at {} a locomotive comes to stand between what stays in the "
                                  "train{}",
                                  where, otherwise));
      return false;
    }
    return true;
  }

  void add_stop(std::size_t section) {
    const JourneySection& before = message_.sections[section - 1];
    const JourneySection& then = message_.sections[section];
    if (before.to_code != then.from_code) {
      report(section, fmt::format("this section begins at {}, and the one before ends at {}",
                                  then.from, before.to));
      return;
    }
    if (!can_be_told(section)) {
      return;
    }
    TomlArray changes = changes_at(section);
    const bool another_speed = before.highest_speed_kmh != then.highest_speed_kmh;
    if (changes.empty()) {
      if (another_speed) {
        report(section, fmt::format("TrainMaxSpeed is another one from {} on, where no vehicle "
                                    "changes; a run cannot say that",
                                    then.from));
      }
      return;
    }
    const auto place = places_.find(then.from_code);
    if (place == places_.end()) {
      report(section,
             fmt::format("vehicles change at {} ({}), which is not in {}; a row has to say "
                         "which place of the network it is",
                         then.from, then.from_code, as_run_.places->file));
      return;
    }
    changes_ += changes.size();
    TomlEntries stop{run_entry("at", place->second)};
    if (another_speed && then.highest_speed_kmh) {
      stop.push_back(run_entry("highest_speed_kmh", *then.highest_speed_kmh));
    } else if (another_speed) {
      report(section,
             fmt::format("TrainMaxSpeed is not stated from {} on, and was before", then.from));
    }
    stop.push_back(run_entry("change", std::move(changes)));
    stops_.push_back({.value = std::move(stop)});
  }

  TomlArray changes_at(std::size_t section) {
    const auto& before = trains_[section - 1].items;
    const auto& then = trains_[section].items;
    TomlArray changes;
    TomlArray detached;
    std::map<std::string, TomlArray> other_mode;  // by what they are from here on
    for (const MessageItem& item : before) {
      const auto kept = std::ranges::find(then, item.key, &MessageItem::key);
      if (item.is_load) {
        continue;
      }
      const TomlNode number{.value = static_cast<std::int64_t>(numbers_.at(item.key))};
      if (kept == then.end()) {
        detached.push_back(number);
      } else if (kept->dead_in_tow != item.dead_in_tow) {
        other_mode[kept->dead_in_tow ? "dead in tow" : "working"].push_back(number);
      }
    }
    if (!detached.empty()) {
      changes.push_back(change_named("detach", {run_entry("vehicles", std::move(detached))}));
    }
    add_attached(before, then, changes);
    for (auto& [mode, vehicles] : other_mode) {
      changes.push_back(change_named(mode, {run_entry("vehicles", std::move(vehicles))}));
    }
    return changes;
  }

  void add_attached(const std::vector<MessageItem>& before, const std::vector<MessageItem>& then,
                    TomlArray& changes) {
    std::map<bool, TomlArray> attached;  // at the front: true
    bool at_front = true;
    for (const MessageItem& item : then) {
      if (has(before, item)) {
        at_front = false;
      } else {
        attached[at_front].push_back(item.node);
      }
    }
    for (const bool front : {true, false}) {
      if (attached[front].empty()) {
        continue;
      }
      for (const MessageItem& item : then) {
        const bool is_of_these = std::ranges::any_of(attached[front], [&](const TomlNode& node) {
          return value_to_toml(node) == value_to_toml(item.node);
        });
        if (is_of_these) {
          numbers_[item.key] = ++greatest_number_;
        }
      }
      changes.push_back(
          change_named("attach", {run_entry("at", std::string(front ? "front" : "rear")),
                                  run_entry("consist", attached[front])}));
    }
  }

  TomlNode root() const {
    TomlEntries entries{run_entry("kind", std::string("run")), run_entry("id", trains_.front().id),
                        run_entry("name", name())};
    if (how_.invented) {
      entries.push_back(run_entry("invented", true));
    }
    entries.push_back(run_entry("source", std::string(source_of_message)));
    entries.push_back(run_entry("network", as_run_.network_name));
    entries.push_back(run_entry("train", as_run_.train_name));
    entries.push_back(run_entry("way", as_run_.way));
    entries.push_back(run_entry("value_source", trains_.front().sources));
    TomlArray stops = stops_;
    if (!stops.empty()) {
      entries.push_back(run_entry("stop", std::move(stops)));
    }
    return {.value = std::move(entries)};
  }

  std::string name() const {
    const std::string way =
        fmt::format("{} – {}", message_.sections.front().from, message_.sections.back().to);
    return !how_.name.empty()              ? how_.name
           : message_.train_number.empty() ? way
                                           : fmt::format("{}, {}", message_.train_number, way);
  }

  void check_by_reader(const std::string& text) {
    const SourceText source{.file = std::string(own_run), .text = text};
    Diagnostics found;
    if (auto run = read_run(source, found)) {
      read_attached(source, stock_, static_cast<int>(trains_.front().vehicles) + 1, *run, {},
                    found);
      if (found.empty()) {
        way_of(*run, *as_run_.network, found);
      }
    }
    for (const Diagnostic& one : found) {
      report(0, one.text);
    }
  }

  const CompositionMessage& message_;
  const StockTable& series_;
  const Stock& stock_;
  const FromMessage& how_;
  const AsRun& as_run_;
  Diagnostics& mistakes_;
  Diagnostics& notes_;
  std::map<std::string, std::string, std::less<>> places_;  ///< ids, by country and code
  std::vector<TrainFromMessage> trains_;                    ///< of the sections
  std::map<std::string, int> numbers_;                      ///< of vehicles, by their keys
  int greatest_number_ = 0;
  TomlArray stops_;
  std::size_t changes_ = 0;
};

}  // namespace

std::optional<RunFromMessage> run_from_message(const CompositionMessage& message,
                                               const StockTable& series, const Stock& stock,
                                               const FromMessage& how, const AsRun& as_run,
                                               Diagnostics& mistakes, Diagnostics& notes) {
  return RunMaker(message, series, stock, how, as_run, mistakes, notes).make();
}

}  // namespace panup
