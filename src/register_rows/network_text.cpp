#include "register_rows/network_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>
#include <unordered_map>

#include "base/cell_values.h"
#include "base/listed.h"
#include "base/provenance_nodes.h"
#include "base/write_toml.h"
#include "register_rows/concepts.h"
#include "register_rows/table_mark.h"

namespace panup {

namespace {

TomlEntry entry(std::string key, TomlNode node) {
  return {.key = std::move(key), .node = std::move(node)};
}
TomlEntry text_entry(std::string key, std::string text) {
  return entry(std::move(key), {.value = std::move(text)});
}
TomlEntry number_entry(std::string key, double number) {
  return entry(std::move(key), {.value = number});
}

constexpr const char* sections_source = "register-sections";
constexpr const char* separations_source = "register-separations";

std::string comment_of(std::string_view text) { return fmt::format("# {}\n", one_line_of(text)); }

/// The keys of a section, and the names of those that the register does not state.
class SectionKeys {
 public:
  void add(const char* key, const std::optional<double>& number) {
    note(key, number.has_value());
    if (number) {
      table_.push_back(number_entry(key, *number));
    }
  }
  void add(const char* key, const std::optional<bool>& flag) {
    note(key, flag.has_value());
    if (flag) {
      table_.push_back(entry(key, {.value = *flag}));
    }
  }
  template <typename Value>
  void add_names(const char* key, const std::optional<std::vector<Value>>& values) {
    note(key, values.has_value());
    if (values) {
      TomlArray names;
      for (const Value value : *values) {
        names.push_back({.value = std::string(name_of(value))});
      }
      table_.push_back(entry(key, {.value = std::move(names)}));
    }
  }
  void add_text(const char* key, const std::string& text) {
    note(key, !text.empty());
    if (!text.empty()) {
      table_.push_back(text_entry(key, text));
    }
  }
  void add_records(const std::vector<RaisedRecord>& records) {
    note("raised", !records.empty());
    TomlArray list;
    for (const RaisedRecord& record : records) {
      TomlEntries one{entry("number", {.value = static_cast<std::int64_t>(record.number)})};
      if (record.number > 1) {
        one.push_back(number_entry("distance_m", record.distance_m));
      }
      one.push_back(number_entry("speed_kmh", record.speed_kmh));
      list.push_back({.value = std::move(one)});
    }
    if (!list.empty()) {
      table_.push_back(entry("raised", {.value = std::move(list)}));
    }
  }
  void add_force(const char* key, const std::optional<ContactForceLimit>& force) {
    note(key, force.has_value());
    if (force) {
      TomlEntries formula;
      if (force->square_n_per_kmh2 > 0) {
        formula.push_back(number_entry("square_n_per_kmh2", force->square_n_per_kmh2));
      }
      formula.push_back(number_entry("constant_n", force->constant_n));
      table_.push_back(entry(key, {.value = std::move(formula)}));
    }
  }
  TomlEntries& table() { return table_; }
  const std::vector<std::string>& missing() const { return missing_; }

 private:
  void note(const char* key, bool stated) {
    if (!stated) {
      missing_.emplace_back(key);
    }
  }
  TomlEntries table_;
  std::vector<std::string> missing_;
};

class NetworkWriter {
 public:
  NetworkWriter(const NetworkHead& head, const std::vector<ChainedLine>& lines,
                const std::vector<RegisterSection>& sections,
                const std::vector<PlacedSeparation>& separations)
      : head_(head), lines_(lines), sections_(sections), separations_(separations) {}

  std::string write() {
    write_head();
    for (const ChainedLine& line : lines_) {
      text_ += "\n";
      if (!line.start_told) {
        text_ += "# Nobody has said where it begins: its kilometres count from 0.\n";
      }
      text_ +=
          table_text("line", {text_entry("id", line.id), text_entry("name", name_of_line(line))});
    }
    write_places();
    for (const ChainedLine& line : lines_) {
      for (const PlacedSection& placed : line.sections) {
        write_section(line, placed);
      }
    }
    for (const PlacedSeparation& one : separations_) {
      write_separation(one);
    }
    for (const ChainedLine& line : lines_) {
      // The register names gradients by the posts: at a wrong place they are worse than unknown.
      for (const PlacedSection& placed : line.sections) {
        if (line.start_told) {
          write_gradients(line, placed);
        }
      }
    }
    return std::move(text_);
  }

 private:
  /// A table of a list, as [[key]], with the mark above it. What is kept takes the place of what
  /// the register says, but not in the mark.
  std::string table_text(const std::string& key, TomlEntries table) const {
    std::string text;
    const std::string mark = mark_line(key, table);
    for (const KeptValue* const kept :
         take_over(*head_.kept, key, identity_of(key, table), table)) {
      text += comment_of("LOOK: " + kept_words(*kept, "the register"));
    }
    const std::string made =
        to_toml({.value = TomlEntries{
                     entry(key, {.value = TomlArray{TomlNode{.value = std::move(table)}}})}});
    return text + mark + made.substr(made.find('['));
  }

  void write_head() {
    text_ +=
        "# Made by panup from-register out of the infrastructure register (ERA vocabulary, CC "
        "BY 4.0).\n";
    text_ += fmt::format("# Made at {} from\n", one_line_of(head_.made_at));
    for (const RegisterRows* const rows : {head_.sections, head_.separations}) {
      text_ += fmt::format("#   {}, {} rows\n#   SHA-256 {}\n", one_line_of(rows->file),
                           rows->rows.size(), rows->sha256);
    }
    text_ +=
        "# What is blank in the register is not stated here. Hold it against the posts and the "
        "documents of\n# the infrastructure manager before a train is planned by it.\n\n";
    TomlArray sources;
    for (const auto& [id, rows, query] :
         {std::tuple{sections_source, head_.sections, "sections of line and tracks"},
          std::tuple{separations_source, head_.separations, "separation sections"}}) {
      sources.push_back(
          node_of(dated({.id = id,
                         .kind = SourceKind::register_answer,
                         .name = "infrastructure register (ERA vocabulary)",
                         .query = query,
                         .sha256 = rows->sha256},
                        rows->answered.empty() ? head_.answered : rows->answered, head_.made_at)));
    }
    for (const ValueSource& source :
         sources_of(*head_.kept, {sections_source, separations_source})) {
      sources.push_back(node_of(source));
    }
    text_ += to_toml(
        {.value = TomlEntries{text_entry("kind", "network"), text_entry("id", head_.id),
                              text_entry("name", head_.name), text_entry("source", sections_source),
                              entry("value_source", {.value = std::move(sources)})}});
  }

  /// The ends of a section in the order in which the line comes to them.
  struct End {
    const std::string* iri;
    std::string name;
  };
  End end_of(const PlacedSection& placed, bool first) const {
    const RegisterSection& section = sections_[placed.section];
    const bool start = first != placed.turned;
    const std::string& iri = start ? section.from : section.to;
    const std::string& name = start ? section.from_name : section.to_name;
    return {&iri, one_line_of(name.empty() ? last_segment(iri) : std::string_view(name))};
  }

  std::string name_of_line(const ChainedLine& line) const {
    return fmt::format("{} – {}", end_of(line.sections.front(), true).name,
                       end_of(line.sections.back(), false).name);
  }

  struct Place {
    std::string id;
    std::string name;
    TomlArray on;
    std::set<std::string> lines;
  };

  void add_place(const End& end, const std::string& line, double at_km) {
    std::vector<std::size_t>& known = by_iri_[*end.iri];
    const auto free = std::ranges::find_if(
        known, [&](std::size_t place) { return !places_[place].lines.contains(line); });
    std::size_t place = 0;
    if (free != known.end()) {
      place = *free;
    } else {
      place = places_.size();
      places_.push_back({.id = free_id_from(last_segment(*end.iri), "place", place_ids_),
                         .name = known.empty() ? end.name : end.name + " (second time)",
                         .on = {},
                         .lines = {}});
      known.push_back(place);
    }
    places_[place].lines.insert(line);
    places_[place].on.push_back(
        {.value = TomlEntries{text_entry("line", line), number_entry("at_km", at_km)}});
  }

  void write_places() {
    for (const ChainedLine& line : lines_) {
      add_place(end_of(line.sections.front(), true), line.id, line.sections.front().from_km);
      for (const PlacedSection& placed : line.sections) {
        add_place(end_of(placed, false), line.id, placed.to_km);
      }
    }
    for (Place& place : places_) {
      text_ +=
          "\n" + table_text("place", {text_entry("id", place.id), text_entry("name", place.name),
                                      entry("on", {.value = std::move(place.on)})});
    }
  }

  void write_section(const ChainedLine& line, const PlacedSection& placed) {
    const RegisterSection& section = sections_[placed.section];
    const LineProperties& properties = section.properties;
    std::vector<std::string> tracks;
    for (const std::string& track : section.tracks) {
      tracks.push_back(track.empty() ? "not named" : one_line_of(last_segment(track)));
    }
    SectionKeys keys;
    keys.table() = {
        text_entry("id", free_id_from(last_segment(section.iri), "section", section_ids_)),
        text_entry("name",
                   fmt::format("{} – {}", end_of(placed, true).name, end_of(placed, false).name)),
        text_entry("line", line.id),
        number_entry("from_km", placed.from_km),
        number_entry("to_km", placed.to_km),
        number_entry("line_speed_kmh", properties.line_speed_kmh),
    };
    keys.add_text("system",
                  properties.supply ? std::string(name_of(*properties.supply)) : std::string());
    keys.add_names("permitted_heads", properties.permitted_heads);
    keys.add_names("permitted_strip_materials", properties.permitted_strip_materials);
    keys.add("greatest_metallic_content_percent", properties.greatest_metallic_content_percent);
    keys.add("greatest_static_force_n", properties.greatest_static_force_n);
    keys.add_force("greatest_contact_force", properties.greatest_contact_force);
    keys.add("automatic_dropping_device_required", properties.automatic_dropping_device_required);
    keys.add("current_limitation_required", properties.current_limitation_required);
    keys.add_text("separation_document", properties.separation_document);
    keys.add("greatest_train_current_a", properties.greatest_train_current_a);
    keys.add("greatest_standstill_current_a", properties.greatest_standstill_current_a);
    keys.add("wire_height_min_m", properties.wire_height_min_m);
    keys.add("wire_height_max_m", properties.wire_height_max_m);
    keys.add_text("temperature_range", properties.temperature_range
                                           ? std::string(name_of(*properties.temperature_range))
                                           : std::string());
    keys.add_records(properties.records);
    text_ += "\n" + comment_of(section.iri);
    text_ += comment_of(fmt::format("From row {} of {}; track {}.", section.row.number,
                                    head_.sections->file, listed(tracks)));
    for (const std::string& doubt : section.doubts) {
      text_ += comment_of("LOOK: " + doubt);
    }
    if (!keys.missing().empty()) {
      text_ += fmt::format("# Not stated: {}\n", listed(keys.missing()));
    }
    text_ += table_text("section", std::move(keys.table()));
  }

  void write_separation(const PlacedSeparation& one) {
    const SeparationSection& what = one.what;
    const std::string& line = lines_[one.line].id;
    TomlEntries table{text_entry("line", line),
                      text_entry("name", fmt::format("{} line {} km {:.3f}", name_of(what.kind),
                                                     line, what.from_km)),
                      text_entry("type", what.kind == SeparationKind::system ? "system" : "phase"),
                      number_entry("from_km", what.from_km),
                      number_entry("length_m", what.length_m),
                      entry("pantograph_lowered", {.value = what.pantograph_lowered}),
                      entry("breaker_off", {.value = what.breaker_off}),
                      text_entry("source", separations_source)};
    if (what.length_meaning != LengthMeaning::not_stated) {
      table.push_back(
          text_entry("length_is", what.length_meaning == LengthMeaning::minimum_between_inner
                                      ? "minimum between inner strips"
                                      : "maximum between outer strips"));
    }
    text_ += "\n" + comment_of("From " + one.comment);
    if (!lines_[one.line].start_told) {
      text_ += "# LOOK: nobody has said where the line begins, so it may lie elsewhere.\n";
    }
    text_ += table_text("separation", std::move(table));
  }

  /// From each point to the next, within the section.
  void write_gradients(const ChainedLine& line, const PlacedSection& placed) {
    const std::vector<GradientPoint>& points = sections_[placed.section].gradients;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double from = rounded_km(std::max(points[i].at_km, placed.from_km));
      const double end = i + 1 < points.size() ? points[i + 1].at_km : placed.to_km;
      const double to = rounded_km(std::min(end, placed.to_km));
      if (to > from) {
        text_ +=
            "\n" + table_text("gradient", {text_entry("line", line.id),
                                           number_entry("from_km", from), number_entry("to_km", to),
                                           number_entry("permille", points[i].permille)});
      }
    }
  }

  const NetworkHead& head_;
  const std::vector<ChainedLine>& lines_;
  const std::vector<RegisterSection>& sections_;
  const std::vector<PlacedSeparation>& separations_;
  std::string text_;
  std::vector<Place> places_;
  std::unordered_map<std::string, std::vector<std::size_t>> by_iri_;
  std::set<std::string> place_ids_;
  std::set<std::string> section_ids_;
};

}  // namespace

std::string network_text(const NetworkHead& head, const std::vector<ChainedLine>& lines,
                         const std::vector<RegisterSection>& sections,
                         const std::vector<PlacedSeparation>& separations) {
  return NetworkWriter(head, lines, sections, separations).write();
}

}  // namespace panup
