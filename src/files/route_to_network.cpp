#include "files/route_to_network.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <set>

#include "base/listed.h"
#include "base/toml_tree.h"
#include "base/write_toml.h"
#include "files/read_network.h"
#include "files/read_route.h"

namespace panup {

namespace {

TomlNode node_of(std::string text) { return {.value = std::move(text)}; }
TomlNode node_of(double number) { return {.value = number}; }
TomlNode node_of(bool flag) { return {.value = flag}; }
TomlNode node_of(TomlArray list) { return {.value = std::move(list)}; }
TomlNode node_of(TomlEntries table) { return {.value = std::move(table)}; }

TomlEntry entry_of(std::string key, TomlNode node) {
  return {.key = std::move(key), .node = std::move(node)};
}

TomlEntry* find(TomlEntries& table, std::string_view key) {
  const auto found = std::ranges::find(table, key, &TomlEntry::key);
  return found == table.end() ? nullptr : &*found;
}

double number_in(TomlEntries& table, std::string_view key) {
  const TomlEntry* const found = find(table, key);
  if (found == nullptr) {
    return 0;
  }
  const auto* const whole = std::get_if<std::int64_t>(&found->node.value);
  const auto* const real = std::get_if<double>(&found->node.value);
  return whole != nullptr ? static_cast<double>(*whole) : real != nullptr ? *real : 0;
}

std::string text_in(TomlEntries& table, std::string_view key) {
  const TomlEntry* const found = find(table, key);
  const auto* const text =
      found == nullptr ? nullptr : std::get_if<std::string>(&found->node.value);
  return text == nullptr ? std::string() : *text;
}

void set(TomlEntries& table, const std::string& key, TomlNode node) {
  if (TomlEntry* const known = find(table, key)) {
    known->node = std::move(node);
  } else {
    table.push_back(entry_of(key, std::move(node)));
  }
}

/// Small letters, digits and '-'; the same name gives the same id.
std::string id_from(const std::string& name, std::size_t number, std::set<std::string>& taken) {
  std::string id;
  for (const char c : name) {
    const bool upper = c >= 'A' && c <= 'Z';
    if (upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      id += upper ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!id.empty() && id.back() != '-') {
      id += '-';
    }
  }
  while (id.ends_with('-')) {
    id.pop_back();
  }
  if (id.empty()) {
    id = fmt::format("place-{}", number);
  }
  std::string free_id = id;
  for (int again = 2; !taken.insert(free_id).second; ++again) {
    free_id = fmt::format("{}-{}", id, again);
  }
  return free_id;
}

std::string relative_to(const std::string& path, const std::string& file) {
  namespace fs = std::filesystem;
  const fs::path folder = fs::absolute(fs::path(file)).parent_path().lexically_normal();
  return fs::absolute(fs::path(path))
      .lexically_normal()
      .lexically_relative(folder)
      .generic_string();
}

class Taker {
 public:
  Taker(const Route& route, TomlNode root, const TakenApartInto& into, Diagnostics& diagnostics)
      : route_(route),
        root_(std::get<TomlEntries>(std::move(root.value))),
        into_(into),
        diagnostics_(diagnostics) {}

  std::optional<RouteTakenApart> take() {
    find_lines();
    RouteTakenApart apart;
    apart.id = route_.id;
    if (!deal_out()) {
      return std::nullopt;
    }
    name_places();
    apart.network = to_toml(network());
    apart.run = to_toml(run());
    say_what_was_done();
    apart.done = std::move(done_);
    return apart;
  }

 private:
  struct Line {
    std::string id;
    double from_km = 0;
    double to_km = 0;
  };
  struct Place {
    std::string id;
    std::string name;
    double at_km = 0;
    bool reversal = false;
    bool stop = true;
  };

  /// After a reversal the train is on another line, whatever the kilometres say.
  void find_lines() {
    double from_km = route_.sections.front().from_km;
    const auto add = [&](double to_km) {
      lines_.push_back(
          {lines_.empty() ? route_.id : fmt::format("{}-{}", route_.id, lines_.size() + 1), from_km,
           to_km});
      from_km = to_km;
    };
    for (const Stop& stop : route_.stops) {
      if (stop.reversal) {
        add(stop.at_km);
      }
    }
    add(route_.sections.back().to_km);
  }

  const Line& line_at(double km) const {
    const auto found =
        std::ranges::find_if(lines_, [km](const Line& line) { return km <= line.to_km; });
    return found == lines_.end() ? lines_.back() : *found;
  }

  TomlArray* list(std::string_view key) {
    TomlEntry* const found = find(root_, key);
    return found == nullptr ? nullptr : std::get_if<TomlArray>(&found->node.value);
  }

  /// Gives everything its line; sections, gradients and the like that lie across a reversal become
  /// two.
  bool deal_out() {
    bool whole = true;
    for (const char* const key : {"section", "gradient", "lowered", "low_place"}) {
      cut(key);
    }
    if (TomlArray* const separations = list("separation")) {
      for (TomlNode& node : *separations) {
        auto& table = std::get<TomlEntries>(node.value);
        const double from = number_in(table, "from_km");
        const double to = from + number_in(table, "length_m") / 1000;
        const Line& line = line_at((from + to) / 2);
        if (from < line.from_km || to > line.to_km) {
          diagnostics_.push_back(
              {{route_.place.file, node.line, node.column},
               fmt::format(
                   "'{}' lies across the reversal, where the route is to be cut into lines: "
                   "end it there, or begin it there",
                   text_in(table, "name"))});
          whole = false;
        }
        set(table, "line", node_of(line.id));
      }
    }
    for (const char* const key : {"section_insulator", "landmark"}) {
      TomlArray* const entries = list(key);
      for (std::size_t i = 0; entries != nullptr && i < entries->size(); ++i) {
        auto& table = std::get<TomlEntries>((*entries)[i].value);
        set(table, "line", node_of(line_at(number_in(table, "at_km")).id));
        if (find(table, "board") != nullptr || find(table, "signal") != nullptr ||
            find(table, "change_on_the_move") != nullptr) {
          set(table, "direction", node_of(std::string("rising")));
          ++directed_;
        }
      }
    }
    return whole;
  }

  void cut(std::string_view key) {
    TomlArray* const entries = list(key);
    if (entries == nullptr) {
      return;
    }
    TomlArray cut_up;
    for (TomlNode& node : *entries) {
      const double from = number_in(std::get<TomlEntries>(node.value), "from_km");
      const double to = number_in(std::get<TomlEntries>(node.value), "to_km");
      int part = 0;
      for (const Line& line : lines_) {
        const double part_from = std::max(from, line.from_km);
        const double part_to = std::min(to, line.to_km);
        if (part_to - part_from <= 1e-6) {
          continue;
        }
        TomlNode& piece = cut_up.emplace_back(node);
        auto& table = std::get<TomlEntries>(piece.value);
        if (part_from > from || part_to < to) {
          set(table, "from_km", node_of(part_from));
          set(table, "to_km", node_of(part_to));
        }
        if (++part > 1 && key == "section") {
          const std::string id = fmt::format("{}-{}", text_in(table, "id"), part);
          cut_sections_.push_back(fmt::format("'{}'", id));
          set(table, "id", node_of(id));
        }
        set(table, "line", node_of(line.id));
      }
    }
    *entries = std::move(cut_up);
  }

  void name_places() {
    constexpr std::string_view dash = " – ";
    const std::size_t first = route_.name.find(dash);
    const std::size_t last = route_.name.rfind(dash);
    const bool by_ends = first != std::string::npos;
    std::set<std::string> taken;
    const auto add = [&](const std::string& name, double at_km, bool reversal, bool stop) {
      places_.push_back({id_from(name, places_.size() + 1, taken), name, at_km, reversal, stop});
    };
    const double from_km = route_.sections.front().from_km;
    const double to_km = route_.sections.back().to_km;
    add(by_ends ? route_.name.substr(0, first) : "Departure", from_km, false, false);
    for (const Stop& stop : route_.stops) {
      if (stop.at_km > from_km && stop.at_km < to_km) {
        add(stop.name, stop.at_km, stop.reversal, true);
      }
    }
    add(by_ends ? route_.name.substr(last + dash.size()) : "Arrival", to_km, false, false);
  }

  TomlNode network() {
    TomlEntries network;
    network.push_back(entry_of("kind", node_of(std::string("network"))));
    for (const char* const key : {"id", "name", "invented", "source"}) {
      if (const TomlEntry* const stated = find(root_, key)) {
        network.push_back(*stated);
      }
    }
    if (!route_.contact_line_folder.empty()) {
      network.push_back(
          entry_of("contact_line_folder",
                   node_of(relative_to(route_.contact_line_folder, into_.network_path))));
    }
    TomlArray lines;
    for (const Line& line : lines_) {
      lines.push_back(node_of(TomlEntries{entry_of("id", node_of(line.id))}));
    }
    network.push_back(entry_of("line", node_of(std::move(lines))));
    TomlArray places;
    for (const Place& place : places_) {
      TomlArray on;
      for (const Line& line : lines_) {
        if (place.at_km >= line.from_km && place.at_km <= line.to_km) {
          on.push_back(node_of(TomlEntries{entry_of("line", node_of(line.id)),
                                           entry_of("at_km", node_of(place.at_km))}));
        }
      }
      places.push_back(node_of(TomlEntries{entry_of("id", node_of(place.id)),
                                           entry_of("name", node_of(place.name)),
                                           entry_of("on", node_of(std::move(on)))}));
    }
    network.push_back(entry_of("place", node_of(std::move(places))));
    TomlArray legs;
    for (const Line& line : lines_) {
      const auto end = std::ranges::find(places_, line.to_km, &Place::at_km);
      legs.push_back(node_of(
          TomlEntries{entry_of("line", node_of(line.id)), entry_of("to", node_of(end->id))}));
    }
    network.push_back(entry_of(
        "way", node_of(TomlArray{node_of(TomlEntries{
                   entry_of("id", node_of(route_.id)), entry_of("name", node_of(route_.name)),
                   entry_of("from", node_of(places_.front().id)),
                   entry_of("legs", node_of(std::move(legs)))})})));
    for (const char* const key : {"value_source", "profile", "section", "separation", "lowered",
                                  "low_place", "landmark", "gradient", "section_insulator"}) {
      if (const TomlEntry* const stated = find(root_, key)) {
        network.push_back(*stated);
      }
    }
    return node_of(std::move(network));
  }

  TomlNode run() {
    TomlEntries run{entry_of("kind", node_of(std::string("run"))),
                    entry_of("id", node_of(route_.id)), entry_of("name", node_of(route_.name))};
    if (route_.invented) {
      run.push_back(entry_of("invented", node_of(true)));
    }
    run.push_back(entry_of("network", node_of(relative_to(into_.network_path, into_.run_path))));
    run.push_back(entry_of("train", node_of(relative_to(into_.train_path, into_.run_path))));
    run.push_back(entry_of("way", node_of(route_.id)));
    TomlArray stops;
    for (const Place& place : places_) {
      if (place.stop) {
        TomlEntries stop{entry_of("at", node_of(place.id))};
        if (place.reversal) {
          stop.push_back(entry_of("reversal", node_of(true)));
        }
        stops.push_back(node_of(std::move(stop)));
      }
    }
    if (!stops.empty()) {
      run.push_back(entry_of("stop", node_of(std::move(stops))));
    }
    return node_of(std::move(run));
  }

  void say_what_was_done() {
    std::vector<std::string> ids;
    for (const Line& line : lines_) {
      ids.push_back(fmt::format("'{}', km {:.9g} to {:.9g}", line.id, line.from_km, line.to_km));
    }
    done_.push_back(fmt::format(
        "The kilometres of the route became those of line{} {}: put the lines' own in their place "
        "where they differ.",
        ids.size() == 1 ? "" : "s", listed(ids)));
    if (lines_.size() > 1) {
      done_.emplace_back("The route was cut into lines where the train reverses.");
    }
    if (!cut_sections_.empty()) {
      done_.push_back(
          fmt::format("Sections that lay across a reversal became two: {} {} new, and "
                      "consents that name the old id have to name it too.",
                      listed(cut_sections_), cut_sections_.size() == 1 ? "is" : "are"));
    }
    if (directed_ > 0) {
      done_.push_back(fmt::format(
          "{} board{}, signal{} or place{} to change at hold{} for rising kilometres, as the route "
          "ran: those of the other direction are not known yet.",
          directed_, directed_ == 1 ? "" : "s", directed_ == 1 ? "" : "s",
          directed_ == 1 ? "" : "s", directed_ == 1 ? "s" : ""));
    }
    done_.push_back(fmt::format("{} place{} named after the stops and the ends of the route.",
                                places_.size(), places_.size() == 1 ? " was" : "s were"));
    done_.emplace_back("Comments of the route file are not carried over.");
  }

  const Route& route_;
  TomlEntries root_;
  const TakenApartInto& into_;
  Diagnostics& diagnostics_;
  std::vector<Line> lines_;
  std::vector<Place> places_;
  std::vector<std::string> cut_sections_;
  std::vector<std::string> done_;
  int directed_ = 0;
};

}  // namespace

std::optional<RouteTakenApart> take_apart(const SourceText& route, const TakenApartInto& into,
                                          Diagnostics& diagnostics) {
  const auto read = read_route(route, diagnostics);
  if (!read) {
    return std::nullopt;
  }
  Diagnostics said_already;
  auto root = parse_toml(route, said_already);
  auto apart = Taker(*read, std::move(*root), into, diagnostics).take();
  if (apart && !read_network({.file = into.network_path, .text = apart->network}, diagnostics)) {
    return std::nullopt;
  }
  return apart;
}

}  // namespace panup
