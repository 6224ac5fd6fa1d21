#include "register_rows/sections.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>
#include <unordered_map>

#include "base/cell_values.h"
#include "base/listed.h"
#include "register_rows/concepts.h"

namespace panup {

namespace {

/// A value with the row that says it first.
struct Said {
  std::string text;
  const RegisterRow* row = nullptr;
};

/// What the rows of one track say, each value of a column once.
struct TrackRows {
  std::string id;
  std::array<std::vector<Said>, section_columns.size()> said;
  std::vector<const RegisterRow*> raised;  ///< rows that say something of raised pantographs

  const std::vector<Said>& of(SectionColumn column) const {
    return said.at(static_cast<std::size_t>(column));
  }
};

struct SectionRows {
  const RegisterRow* first = nullptr;
  std::vector<TrackRows> tracks;
};

const std::string& cell(const RegisterRow& row, SectionColumn column) {
  return row.cells[static_cast<std::size_t>(column)];
}
std::string_view heading_of(SectionColumn column) {
  return section_columns.at(static_cast<std::size_t>(column));
}

bool is_raised(SectionColumn column) {
  return column >= SectionColumn::raised_number && column <= SectionColumn::raised_old;
}

void add(const RegisterRow& row, TrackRows& track) {
  for (std::size_t i = 0; i < section_columns.size(); ++i) {
    std::vector<Said>& said = track.said.at(i);
    const std::string& text = row.cells[i];
    if (!text.empty() && !is_raised(static_cast<SectionColumn>(i)) &&
        std::ranges::find(said, text, &Said::text) == said.end()) {
      said.push_back({text, &row});
    }
  }
  const auto same = [&row](const RegisterRow* known) {
    for (auto i = static_cast<std::size_t>(SectionColumn::raised_number);
         i <= static_cast<std::size_t>(SectionColumn::raised_old); ++i) {
      if (known->cells[i] != row.cells[i]) {
        return false;
      }
    }
    return true;
  };
  const bool says = !cell(row, SectionColumn::raised_number).empty() ||
                    !cell(row, SectionColumn::raised_distance).empty() ||
                    !cell(row, SectionColumn::raised_speed).empty() ||
                    !cell(row, SectionColumn::raised_old).empty();
  if (says && std::ranges::none_of(track.raised, same)) {
    track.raised.push_back(&row);
  }
}

/// Which of two numbers is the stricter.
enum class Stricter : std::uint8_t { least, greatest };
/// What a number is where one of the tracks does not say it: unknown, or what the others say, for a
/// limit that none states binds nobody.
enum class Silent : std::uint8_t { unknown, passed_over };

struct NumberWanted {
  SectionColumn column;
  double least;
  double greatest;
  Stricter stricter;
  Silent silent;
  std::string_view key;  ///< of panup
};

class SectionMaker {
 public:
  SectionMaker(const RegisterRows& rows, const SectionRows& from, const std::string& track,
               Diagnostics& notes)
      : file_(rows.file), from_(from), notes_(notes) {
    made_.iri = cell(*from.first, SectionColumn::section);
    made_.row = {.cells = {}, .number = from.first->number, .line = from.first->line};
    for (const TrackRows& one : from.tracks) {
      if (one.id == track || last_segment(one.id) == track) {
        counting_ = {&one};
        break;
      }
      counting_.push_back(&one);
    }
    if (!track.empty() && counting_.size() > 1) {
      note(*from.first, fmt::format("there is no track '{}'; what the strictest of its {} tracks "
                                    "permits was taken",
                                    track, counting_.size()));
    }
    for (const TrackRows& one : from.tracks) {
      const bool counts = std::ranges::find(counting_, &one) != counting_.end();
      (counts ? made_.tracks : made_.other_tracks).push_back(one.id);
    }
  }

  RegisterSection make() {
    made_.line = one_text(SectionColumn::line, "the national line");
    made_.from = one_text(SectionColumn::from, "the operational point at its start");
    made_.to = one_text(SectionColumn::to, "the operational point at its end");
    made_.from_name = first_text(SectionColumn::from_name);
    made_.to_name = first_text(SectionColumn::to_name);
    read_length();
    read_line_type();
    if (!made_.overhead_line) {
      return std::move(made_);
    }
    LineProperties& properties = made_.properties;
    properties.line_speed_kmh =
        number({SectionColumn::speed, 5, 400, Stricter::least, Silent::unknown, "line_speed_kmh"})
            .value_or(0);
    read_supply();
    properties.greatest_train_current_a =
        number({SectionColumn::train_current, 1, 20000, Stricter::least, Silent::passed_over,
                "greatest_train_current_a"});
    properties.greatest_standstill_current_a =
        number({SectionColumn::standstill_current, 0.1, 5000, Stricter::least, Silent::passed_over,
                "greatest_standstill_current_a"});
    read_heights();
    read_heads();
    read_strips();
    properties.greatest_metallic_content_percent =
        number({SectionColumn::metallic, 0, 100, Stricter::least, Silent::passed_over,
                "greatest_metallic_content_percent"});
    read_force();
    read_temperatures();
    properties.current_limitation_required =
        flag(SectionColumn::limitation, "current_limitation_required");
    properties.automatic_dropping_device_required =
        flag(SectionColumn::dropping_device, "automatic_dropping_device_required");
    read_document();
    read_records();
    read_gradients();
    made_.has_phase = flag(SectionColumn::has_phase, "separations");
    made_.has_system = flag(SectionColumn::has_system, "separations");
    return std::move(made_);
  }

 private:
  void note(const RegisterRow& row, std::string_view text) {
    notes_.push_back(
        at_row(file_, row, fmt::format("section {}: {}", last_segment(made_.iri), text)));
  }
  /// A note that the file, too, says beside the section.
  void doubt(const RegisterRow& row, const std::string& text) {
    note(row, text);
    made_.doubts.push_back(text);
  }

  /// Over all tracks: it is of the section, not of a track.
  std::vector<Said> all_said(SectionColumn column) const {
    std::vector<Said> all;
    for (const TrackRows& track : from_.tracks) {
      for (const Said& said : track.of(column)) {
        if (std::ranges::find(all, said.text, &Said::text) == all.end()) {
          all.push_back(said);
        }
      }
    }
    return all;
  }

  std::string one_text(SectionColumn column, std::string_view what) {
    const std::vector<Said> all = all_said(column);
    if (all.size() > 1) {
      note(*all[1].row, fmt::format("{} is both '{}' and '{}'; one is due, so it is not known",
                                    what, one_line_of(all[0].text), one_line_of(all[1].text)));
      return {};
    }
    return all.empty() ? std::string() : all[0].text;
  }

  std::string first_text(SectionColumn column) const {
    const std::vector<Said> all = all_said(column);
    return all.empty() ? std::string() : all[0].text;
  }

  void read_length() {
    const std::string text = one_text(SectionColumn::length, "its length");
    if (text.empty()) {
      return;
    }
    const auto length = number_in_cell(text);
    // To the millimetre, as kilometres are written: one below is none.
    if (length && rounded_km(*length) > 0 && *length <= 1000) {
      made_.length_km = rounded_km(*length);
    } else {
      note(*all_said(SectionColumn::length)[0].row,
           fmt::format("its length is '{}'; a number of kilometres above 0 is due, so it is not "
                       "known",
                       one_line_of(text)));
    }
  }

  void unknown_concept(const Said& said, SectionColumn column) {
    doubt(*said.row, fmt::format("'{}' in column '{}' is no concept that is known here and was "
                                 "passed over",
                                 one_line_of(said.text), heading_of(column)));
  }

  /// Left out where all tracks that count are known to be without an overhead contact line.
  void read_line_type() {
    bool all_without = true;
    bool some_without = false;
    const RegisterRow* where = from_.first;
    for (const TrackRows* const track : counting_) {
      bool with = false;
      bool without = false;
      for (const Said& said : track->of(SectionColumn::line_type)) {
        const Concept<bool> type = has_overhead_line(said.text);
        if (!type.known) {
          unknown_concept(said, SectionColumn::line_type);
          continue;
        }
        with = with || *type.meaning;
        without = without || !*type.meaning;
        where = *type.meaning ? where : said.row;
      }
      all_without = all_without && without && !with;
      some_without = some_without || (without && !with);
    }
    made_.overhead_line = !all_without;
    if (all_without) {
      note(*where, "it has no overhead contact line and was left out");
    } else if (some_without) {
      doubt(*where, "one of its tracks has no overhead contact line: name a track with --track");
      no_supply_ = true;
    }
  }

  void read_supply() {
    std::optional<EnergySupply> supply;
    bool clear = !no_supply_;
    for (const TrackRows* const track : counting_) {
      const std::vector<Said>& all = track->of(SectionColumn::supply);
      clear = clear && !all.empty();
      for (const Said& said : all) {
        const Concept<EnergySupply> meant = supply_meant(said.text);
        if (!meant.known) {
          unknown_concept(said, SectionColumn::supply);
          clear = false;
        } else if (!meant.meaning) {
          doubt(*said.row, fmt::format("'{}' is no energy supply system that panup plans for, so "
                                       "'system' is not stated",
                                       last_segment(said.text)));
          clear = false;
        } else if (supply && supply != meant.meaning) {
          doubt(*said.row, fmt::format("its energy supply system is both {} and {}, so 'system' is "
                                       "not stated",
                                       name_of(*supply), name_of(*meant.meaning)));
          clear = false;
        } else {
          supply = meant.meaning;
        }
      }
    }
    made_.properties.supply = clear ? supply : std::nullopt;
  }

  std::optional<double> number(const NumberWanted& wanted) {
    std::optional<double> strictest;
    bool known = true;
    for (const TrackRows* const track : counting_) {
      const std::vector<Said>& all = track->of(wanted.column);
      std::size_t usable = 0;
      std::optional<double> of_track;
      for (const Said& said : all) {
        const auto value = number_in_cell(said.text);
        if (!value || *value < wanted.least || *value > wanted.greatest) {
          doubt(*said.row, fmt::format("'{}' in column '{}' is not a number from {:g} to {:g}, so "
                                       "'{}' is not stated",
                                       one_line_of(said.text), heading_of(wanted.column),
                                       wanted.least, wanted.greatest, wanted.key));
          known = false;
          continue;
        }
        ++usable;
        const bool stricter =
            !of_track ||
            (wanted.stricter == Stricter::least ? *value < *of_track : *value > *of_track);
        of_track = stricter ? value : of_track;
      }
      if (usable > 1) {
        doubt(*all[1].row,
              fmt::format("column '{}' has {} values for one track where one is due; the stricter, "
                          "{:.9g}, was taken",
                          heading_of(wanted.column), usable, *of_track));
      }
      if (!of_track) {
        known = known && wanted.silent == Silent::passed_over;
        continue;
      }
      const bool stricter =
          !strictest ||
          (wanted.stricter == Stricter::least ? *of_track < *strictest : *of_track > *strictest);
      strictest = stricter ? of_track : strictest;
    }
    // A limit that one track states in a way nobody can read still binds by what the others say.
    return known || wanted.silent == Silent::passed_over ? strictest : std::nullopt;
  }

  void read_heights() {
    LineProperties& properties = made_.properties;
    properties.wire_height_min_m = number(
        {SectionColumn::height_min, 3, 9, Stricter::least, Silent::unknown, "wire_height_min_m"});
    properties.wire_height_max_m = number({SectionColumn::height_max, 3, 9, Stricter::greatest,
                                           Silent::unknown, "wire_height_max_m"});
    if (properties.wire_height_min_m && properties.wire_height_max_m &&
        *properties.wire_height_min_m > *properties.wire_height_max_m) {
      doubt(*from_.first,
            fmt::format("its least wire height, {:.9g} m, is above the greatest, {:.9g} m, so "
                        "neither is stated",
                        *properties.wire_height_min_m, *properties.wire_height_max_m));
      properties.wire_height_min_m.reset();
      properties.wire_height_max_m.reset();
    }
  }

  /// Of a list on each track what all of them permit; nothing where one says nothing.
  template <typename Value>
  static std::optional<std::vector<Value>> in_all(const std::vector<std::vector<Value>>& by_track) {
    std::vector<Value> common;
    for (const Value value : by_track.front()) {
      const bool everywhere = std::ranges::all_of(by_track, [&](const std::vector<Value>& list) {
        return std::ranges::find(list, value) != list.end();
      });
      if (everywhere && std::ranges::find(common, value) == common.end()) {
        common.push_back(value);
      }
    }
    return common.empty() ? std::nullopt : std::optional(std::move(common));
  }

  template <typename Value>
  void read_list(const TrackRows& track, SectionColumn column,
                 const std::function<Concept<Value>(std::string_view)>& meant,
                 std::vector<Value>& values) {
    for (const Said& said : track.of(column)) {
      const Concept<Value> found = meant(said.text);
      if (!found.known) {
        unknown_concept(said, column);
      } else if (found.meaning) {
        values.push_back(*found.meaning);
      }
    }
  }

  void read_heads() {
    std::vector<std::vector<HeadType>> by_track;
    for (const TrackRows* const track : counting_) {
      std::vector<HeadType>& heads = by_track.emplace_back();
      read_list<HeadType>(*track, SectionColumn::tsi_head, tsi_head_meant, heads);
      read_list<HeadType>(*track, SectionColumn::other_head, other_head_meant, heads);
    }
    made_.properties.permitted_heads = in_all(by_track);
  }

  void read_strips() {
    std::vector<std::vector<StripMaterial>> by_track;
    for (const TrackRows* const track : counting_) {
      read_list<StripMaterial>(*track, SectionColumn::strip, strip_meant, by_track.emplace_back());
    }
    made_.properties.permitted_strip_materials = in_all(by_track);
  }

  /// No class stands for what two of them have in common.
  void read_temperatures() {
    std::optional<TemperatureRange>& range = made_.properties.temperature_range;
    std::size_t silent = 0;
    for (const TrackRows* const track : counting_) {
      const std::vector<Said>& all = track->of(SectionColumn::temperature);
      silent += all.empty() ? 1U : 0U;
      for (const Said& said : all) {
        const Concept<TemperatureRange> meant = temperature_range_meant(said.text);
        if (!meant.known) {
          unknown_concept(said, SectionColumn::temperature);
          ++silent;
        } else if (range && range != meant.meaning) {
          doubt(*said.row, fmt::format("column '{}' has both {} and {}, so 'temperature_range' is "
                                       "not stated",
                                       heading_of(SectionColumn::temperature), name_of(*range),
                                       name_of(*meant.meaning)));
          ++silent;
        } else {
          range = meant.meaning;
        }
      }
    }
    if (silent > 0) {
      range.reset();
    }
  }

  /// Of two formulas neither may be the stricter at every speed: what both permit is taken.
  void read_force() {
    std::optional<double>& static_n = made_.properties.greatest_static_force_n;
    std::optional<ContactForceLimit>& greatest = made_.properties.greatest_contact_force;
    for (const TrackRows* const track : counting_) {
      for (const Said& said : track->of(SectionColumn::force)) {
        const auto force = permitted_force(said.text);
        if (!force) {
          doubt(*said.row,
                fmt::format("column '{}': the permitted contact force '{}' is neither a static "
                            "force of 20 to 300 N and a greatest force, nor of the form a v2 + b, "
                            "so none is stated by it: look it up and state "
                            "'greatest_static_force_n' or 'greatest_contact_force'",
                            heading_of(SectionColumn::force), one_line_of(said.text)));
          continue;
        }
        if (force->static_n) {
          static_n = std::min(*force->static_n, static_n.value_or(*force->static_n));
        }
        const ContactForceLimit& one = force->greatest;
        greatest =
            greatest
                ? ContactForceLimit{std::min(one.square_n_per_kmh2, greatest->square_n_per_kmh2),
                                    std::min(one.constant_n, greatest->constant_n)}
                : one;
      }
    }
  }

  /// Required where one track says so; not required only where all do.
  std::optional<bool> flag(SectionColumn column, std::string_view key) {
    bool all_state_no = true;
    bool required = false;
    for (const TrackRows* const track : counting_) {
      const std::vector<Said>& all = track->of(column);
      bool yes = false;
      bool no = false;
      for (const Said& said : all) {
        const auto value = flag_in_cell(said.text);
        if (!value) {
          doubt(*said.row, fmt::format("'{}' in column '{}' is neither true nor false and was "
                                       "passed over",
                                       one_line_of(said.text), heading_of(column)));
        }
        yes = yes || value == true;
        no = no || value == false;
      }
      if (yes && no) {
        doubt(*all[1].row, fmt::format("column '{}' says both true and false for one track; '{}' "
                                       "is taken as true",
                                       heading_of(column), key));
      }
      required = required || yes;
      all_state_no = all_state_no && no;
    }
    return required ? std::optional(true) : all_state_no ? std::optional(false) : std::nullopt;
  }

  void read_document() {
    std::vector<std::string> names;
    for (const TrackRows* const track : counting_) {
      for (const Said& said : track->of(SectionColumn::document)) {
        const std::string name = one_line_of(said.text);
        if (std::ranges::find(names, name) == names.end()) {
          names.push_back(name);
        }
      }
    }
    made_.properties.separation_document = listed(names);
  }

  static bool is_of_old_form(const RegisterRow& row) {
    return cell(row, SectionColumn::raised_number).empty() &&
           cell(row, SectionColumn::raised_distance).empty() &&
           cell(row, SectionColumn::raised_speed).empty();
  }

  /// What the old form says of a row that has the new one does not count. It is told where no
  /// record of the track says the same.
  void compare_old_form(const RegisterRow& row, const std::vector<RaisedRecord>& records) {
    const std::string& old = cell(row, SectionColumn::raised_old);
    if (old.empty() || is_of_old_form(row)) {
      return;
    }
    auto record = old_record(old);
    if (record && record->number == 1) {
      record->distance_m = 0;
    }
    if (!record || std::ranges::find(records, *record) == records.end()) {
      doubt(row, fmt::format("column '{}' says '{}' of raised pantographs, which none of the "
                             "records beside it says; it does not count",
                             heading_of(SectionColumn::raised_old), one_line_of(old)));
    }
  }

  std::optional<RaisedRecord> record_of(const RegisterRow& row) {
    const std::string& old = cell(row, SectionColumn::raised_old);
    const auto number = number_in_cell(cell(row, SectionColumn::raised_number));
    const auto distance = number_in_cell(cell(row, SectionColumn::raised_distance));
    const auto speed = number_in_cell(cell(row, SectionColumn::raised_speed));
    std::optional<RaisedRecord> record;
    std::string said;
    std::string columns;
    if (is_of_old_form(row)) {
      said = old;
      columns = fmt::format("column '{}'", heading_of(SectionColumn::raised_old));
      record = old_record(old);
    } else {
      columns = fmt::format("columns '{}' to '{}'", heading_of(SectionColumn::raised_number),
                            heading_of(SectionColumn::raised_speed));
      said = fmt::format("{} {} {}", cell(row, SectionColumn::raised_number),
                         cell(row, SectionColumn::raised_distance),
                         cell(row, SectionColumn::raised_speed));
      if (number && speed && (distance || *number == 1) && *number >= 1 && *number <= 16 &&
          *number == static_cast<int>(*number)) {
        record = RaisedRecord{.number = static_cast<int>(*number),
                              .distance_m = distance.value_or(0),
                              .speed_kmh = *speed};
      }
    }
    const bool right =
        record && record->number >= 1 && record->number <= 16 &&
        (record->number == 1 || (record->distance_m > 0 && record->distance_m <= 1000)) &&
        record->speed_kmh >= 5 && record->speed_kmh <= 400;
    if (!right) {
      doubt(row,
            fmt::format("{}: the record of raised pantographs '{}' is not a number of 1 to 16, a "
                        "distance of up to 1000 m and a speed of 5 to 400 km/h, and was left "
                        "out",
                        columns, one_line_of(said)));
      return std::nullopt;
    }
    if (record->number == 1) {
      record->distance_m = 0;
    }
    return record;
  }

  void read_records() {
    std::optional<std::vector<RaisedRecord>> common;
    for (const TrackRows* const track : counting_) {
      std::vector<RaisedRecord> records;
      for (const RegisterRow* const row : track->raised) {
        const auto record = record_of(*row);
        if (record && std::ranges::find(records, *record) == records.end()) {
          records.push_back(*record);
        }
      }
      std::set<std::string_view> compared;
      for (const RegisterRow* const row : track->raised) {
        if (compared.insert(cell(*row, SectionColumn::raised_old)).second) {
          compare_old_form(*row, records);
        }
      }
      common =
          !common || *common == records ? std::move(records) : permitted_by_both(*common, records);
    }
    made_.properties.records = common.value_or(std::vector<RaisedRecord>{});
  }

  void read_gradients() {
    std::optional<std::vector<GradientPoint>> profile;
    for (const TrackRows* const track : counting_) {
      for (const Said& said : track->of(SectionColumn::gradient)) {
        auto points = gradient_profile(said.text);
        if (!points) {
          note(*said.row, fmt::format("the gradient profile '{}' is not of the form "
                                      "+NN.N(NNNN.NNN) with rising kilometres; no gradient is "
                                      "stated",
                                      one_line_of(said.text)));
          return;
        }
        if (profile && profile != points) {
          note(*said.row, "it has several gradient profiles, so no gradient is stated");
          return;
        }
        profile = std::move(points);
      }
    }
    made_.gradients = profile.value_or(std::vector<GradientPoint>{});
  }

  const std::string& file_;
  const SectionRows& from_;
  Diagnostics& notes_;
  RegisterSection made_;
  std::vector<const TrackRows*> counting_;  ///< the tracks that count
  bool no_supply_ = false;
};

}  // namespace

void RegisterSection::withhold_supply(std::string why) {
  properties.supply.reset();
  doubts.push_back(std::move(why));
}

std::vector<RegisterSection> sections_from(const RegisterRows& rows, const std::string& track,
                                           Diagnostics& notes) {
  std::vector<SectionRows> grouped;
  std::unordered_map<std::string, std::size_t> places;
  for (const RegisterRow& row : rows.rows) {
    const std::string& iri = cell(row, SectionColumn::section);
    if (iri.empty()) {
      notes.push_back(at_row(rows.file, row, "'sol' is empty; the row was left out"));
      continue;
    }
    const auto [place, is_new] = places.emplace(iri, grouped.size());
    if (is_new) {
      grouped.push_back({.first = &row, .tracks = {}});
    }
    std::vector<TrackRows>& tracks = grouped[place->second].tracks;
    const std::string& id = cell(row, SectionColumn::track);
    auto found = std::ranges::find(tracks, id, &TrackRows::id);
    if (found == tracks.end()) {
      tracks.push_back({.id = id, .said = {}, .raised = {}});
      found = tracks.end() - 1;
    }
    add(row, *found);
  }
  std::vector<RegisterSection> sections;
  sections.reserve(grouped.size());
  for (const SectionRows& group : grouped) {
    sections.push_back(SectionMaker(rows, group, track, notes).make());
  }
  return sections;
}

}  // namespace panup
