#include "register_rows/place_separations.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <unordered_map>

#include "base/cell_values.h"
#include "base/same_place.h"
#include "register_rows/concepts.h"

namespace panup {

namespace {

/// Kilometres of the register are rounded to the metre.
constexpr double register_km = 0.001;

const std::string& cell(const RegisterRow& row, SeparationColumn column) {
  return row.cells[static_cast<std::size_t>(column)];
}

struct LineAndPlace {
  std::size_t line = 0;
  std::size_t place = 0;
};

/// The kilometres at which a line could begin so that its separation sections lie in their
/// sections.
struct PossibleStarts {
  double least_km = 0;
  double greatest_km = 5000;
  bool outside = false;  ///< as it begins now, one lies outside
};

class Placer {
 public:
  Placer(const RegisterRows& rows, const std::vector<ChainedLine>& lines,
         std::vector<RegisterSection>& sections, Diagnostics& notes)
      : rows_(rows), lines_(lines), sections_(sections), notes_(notes), starts_(lines.size()) {
    for (std::size_t i = 0; i < sections.size(); ++i) {
      by_iri_.emplace(sections[i].iri, i);
    }
    for (std::size_t line = 0; line < lines.size(); ++line) {
      for (std::size_t place = 0; place < lines[line].sections.size(); ++place) {
        placed_.emplace(lines[line].sections[place].section, LineAndPlace{line, place});
      }
    }
  }

  std::vector<PlacedSeparation> place() {
    for (const RegisterRow& row : rows_.rows) {
      place(row);
    }
    merge();
    return std::move(separations_);
  }

  bool has(std::size_t section, SeparationKind kind) const {
    return seen_.contains({section, kind});
  }

  /// What to do about lines that begin at the wrong kilometre.
  void advise() {
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const PossibleStarts& starts = starts_[i];
      if (starts.outside) {
        notes_.push_back(
            {{.file = rows_.file},
             starts.least_km <= starts.greatest_km
                 ? fmt::format("line {}: its separation sections would lie in their sections if it "
                               "began at km {:.3f} to {:.3f}: look up where it begins, and state "
                               "--start {}=KM",
                               lines_[i].id, starts.least_km, starts.greatest_km, lines_[i].id)
                 : fmt::format("line {}: there is no kilometre at which it could begin so that all "
                               "its separation sections lie in their sections: its posts jump, "
                               "fall, or the rows are wrong",
                               lines_[i].id)});
      }
    }
  }

 private:
  void note(const RegisterRow& row, std::string_view text) {
    notes_.push_back(at_row(rows_.file, row,
                            fmt::format("separation section of {}: {}",
                                        last_segment(cell(row, SeparationColumn::section)), text)));
  }

  /// What is wrong with the row leaves its separation section without a place.
  void withhold(const RegisterRow& row, std::size_t section, std::string_view why) {
    note(row, fmt::format("{}; the section states no 'system', so that nothing may be raised there "
                          "until somebody has looked",
                          why));
    sections_[section].withhold_supply(
        fmt::format("it has a separation section that could not be placed: {}", why));
  }

  std::optional<bool> flag(const RegisterRow& row, SeparationColumn column, std::string_view key,
                           std::string& comment) {
    const std::string& text = cell(row, column);
    const auto value = flag_in_cell(text);
    if (!value) {
      note(row, fmt::format("'{}' is {}; true is taken, the safe side", key,
                            text.empty()
                                ? "not stated"
                                : fmt::format("'{}', neither true nor false", one_line_of(text))));
      comment += fmt::format(" '{}' is not stated in the register.", key);
    }
    return value;
  }

  void place(const RegisterRow& row) {
    const auto found = by_iri_.find(cell(row, SeparationColumn::section));
    if (found == by_iri_.end()) {
      note(row, "there is no such section among the sections; it was left out");
      return;
    }
    const std::size_t index = found->second;
    const RegisterSection& section = sections_[index];
    const std::string& track = cell(row, SeparationColumn::track);
    if (std::ranges::find(section.other_tracks, track) != section.other_tracks.end()) {
      return;  // of a track that does not count
    }
    const auto on = placed_.find(index);
    if (on == placed_.end()) {
      return;  // the section was left out, and that was said
    }
    const std::string& kind = cell(row, SeparationColumn::kind);
    const bool change = flag_in_cell(cell(row, SeparationColumn::change)).value_or(false);
    if (kind != "phase" && kind != "system") {
      withhold(row, index,
               fmt::format("its kind is '{}', neither phase nor system", one_line_of(kind)));
      return;
    }
    const SeparationKind said = kind == "system" ? SeparationKind::system : SeparationKind::phase;
    seen_.insert({index, said});
    const auto km = number_in_cell(cell(row, SeparationColumn::km));
    const auto length = number_in_cell(cell(row, SeparationColumn::length));
    if (!km || !length || *length < 0.01 || *length > 5000) {
      const std::string& old = cell(row, SeparationColumn::old);
      withhold(row, index,
               fmt::format("its kilometre is '{}' and its length '{}' m, and a number and one from "
                           "0.01 to 5000 are due{}",
                           one_line_of(cell(row, SeparationColumn::km)),
                           one_line_of(cell(row, SeparationColumn::length)),
                           old.empty() ? ""
                                       : fmt::format("; what column 'old' says, '{}', is not read, "
                                                     "for what its numbers mean was not looked up",
                                                     one_line_of(old))));
      return;
    }
    const ChainedLine& line = lines_[on->second.line];
    const PlacedSection& within = line.sections[on->second.place];
    const double line_from_km = line.sections.front().from_km;
    PossibleStarts& starts = starts_[on->second.line];
    starts.least_km = std::max(starts.least_km, *km - (within.to_km - line_from_km));
    starts.greatest_km = std::min(starts.greatest_km, *km - (within.from_km - line_from_km));
    if (*km < within.from_km - register_km || *km > within.to_km + register_km ||
        *km + *length / 1000 > line.sections.back().to_km + register_km ||
        *length / 1000 > line.sections.back().to_km - line_from_km) {
      starts.outside = true;
      withhold(row, index,
               fmt::format("km {:.9g}, {:g} m long, is outside its section, which lies from km "
                           "{:.9g} to {:.9g} of line {}",
                           *km, *length, within.from_km, within.to_km, line.id));
      return;
    }
    PlacedSeparation placed;
    placed.line = on->second.line;
    placed.section = index;
    placed.what.kind = change ? SeparationKind::system : said;
    placed.what.length_m = *length;
    placed.what.from_km = std::max(
        std::min(*km, rounded_km(line.sections.back().to_km - *length / 1000)), line_from_km);
    placed.comment = fmt::format("row {} of {}.", row.number, rows_.file);
    placed.what.pantograph_lowered =
        flag(row, SeparationColumn::lowered, "pantograph_lowered", placed.comment).value_or(true);
    placed.what.breaker_off =
        flag(row, SeparationColumn::breaker_off, "breaker_off", placed.comment).value_or(true);
    if (placed.what.pantograph_lowered && !placed.what.breaker_off) {
      note(row, "pantographs are lowered with the breaker on; 'breaker_off = true' is taken");
      placed.what.breaker_off = true;
    }
    read_meaning(row, placed);
    if (const std::string& text = cell(row, SeparationColumn::change);
        !text.empty() && !flag_in_cell(text)) {
      placed.comment += fmt::format(" Change of system: {}.", one_line_of(text));
    }
    separations_.push_back(std::move(placed));
  }

  void read_meaning(const RegisterRow& row, PlacedSeparation& placed) {
    const std::string& meaning = cell(row, SeparationColumn::meaning);
    if (meaning == "MIN") {
      placed.what.length_meaning = LengthMeaning::minimum_between_inner;
    } else if (meaning == "MAX") {
      placed.what.length_meaning = LengthMeaning::maximum_between_outer;
    } else if (!meaning.empty()) {
      note(row, fmt::format("what its length means is '{}', neither MIN nor MAX, so 'length_is' is "
                            "not stated",
                            one_line_of(meaning)));
    }
  }

  /// The same one may stand on several tracks; what overlaps becomes one.
  void merge() {
    std::ranges::stable_sort(
        separations_, [](const PlacedSeparation& a, const PlacedSeparation& b) {
          return a.line != b.line ? a.line < b.line : a.what.from_km < b.what.from_km;
        });
    std::vector<PlacedSeparation> apart;
    for (PlacedSeparation& next : separations_) {
      const auto end_km = [](const PlacedSeparation& one) {
        return one.what.from_km + one.what.length_m / 1000;
      };
      if (apart.empty() || apart.back().line != next.line ||
          next.what.from_km >= end_km(apart.back()) - same_place_km) {
        apart.push_back(std::move(next));
        continue;
      }
      SeparationSection& before = apart.back().what;
      const bool same_extent =
          before.from_km == next.what.from_km && before.length_m == next.what.length_m;
      if (!same_extent || before.length_meaning != next.what.length_meaning) {
        before.length_meaning = LengthMeaning::not_stated;
      }
      const double end = std::max(end_km(apart.back()), end_km(next));
      if (!same_extent) {
        before.length_m = rounded_km(end - before.from_km) * 1000;
        notes_.push_back(
            {{.file = rows_.file},
             fmt::format("line {}: separation sections overlap from km {:.9g}; one was "
                         "made of them that covers both",
                         lines_[next.line].id, next.what.from_km)});
      }
      if (next.what.kind == SeparationKind::system) {
        before.kind = SeparationKind::system;
      }
      before.pantograph_lowered = before.pantograph_lowered || next.what.pantograph_lowered;
      before.breaker_off = before.breaker_off || next.what.breaker_off;
      if (apart.back().comment != next.comment) {
        apart.back().comment += " And " + next.comment;
      }
    }
    separations_ = std::move(apart);
  }

  const RegisterRows& rows_;
  const std::vector<ChainedLine>& lines_;
  std::vector<RegisterSection>& sections_;
  Diagnostics& notes_;
  std::vector<PossibleStarts> starts_;
  std::unordered_map<std::string, std::size_t> by_iri_;
  std::unordered_map<std::size_t, LineAndPlace> placed_;
  std::set<std::pair<std::size_t, SeparationKind>> seen_;
  std::vector<PlacedSeparation> separations_;
};

/// Withholds the supply of a section whose separations are not known.
void check_completeness(const Placer& placer, bool no_others, std::size_t index,
                        RegisterSection& section, const std::string& file, Diagnostics& notes) {
  // DC has no phases.
  const bool phases = !section.properties.supply || is_ac(*section.properties.supply);
  for (const auto& [said, kind, matters] :
       {std::tuple{section.has_phase, SeparationKind::phase, phases},
        std::tuple{section.has_system, SeparationKind::system, true}}) {
    const bool has = placer.has(index, kind);
    std::string why;
    if (said == true && !has) {
      why = fmt::format("it is said to have a {}, and no row says where", name_of(kind));
    } else if (!said && !has && matters && !no_others) {
      why = fmt::format("it is not said whether it has a {}", name_of(kind));
    } else if (said == false && has) {
      notes.push_back(at_row(file, section.row,
                             fmt::format("section {}: it is said to have no {}, and a row says "
                                         "where one is; that one counts",
                                         last_segment(section.iri), name_of(kind))));
    }
    if (!why.empty()) {
      notes.push_back(at_row(
          file, section.row,
          fmt::format("section {}: {}; it states no 'system', so that nothing may be raised there "
                      "until somebody has looked",
                      last_segment(section.iri), why)));
      section.withhold_supply(std::move(why));
    }
  }
}

}  // namespace

std::vector<PlacedSeparation> place_separations(const RegisterRows& rows, bool no_others,
                                                const std::vector<ChainedLine>& lines,
                                                std::vector<RegisterSection>& sections,
                                                const std::string& sections_file,
                                                Diagnostics& notes) {
  Placer placer(rows, lines, sections, notes);
  std::vector<PlacedSeparation> separations = placer.place();
  placer.advise();
  for (const ChainedLine& line : lines) {
    for (const PlacedSection& placed : line.sections) {
      check_completeness(placer, no_others, placed.section, sections[placed.section], sections_file,
                         notes);
    }
  }
  return separations;
}

void cut_where_systems_meet(std::vector<ChainedLine>& lines,
                            std::vector<PlacedSeparation>& separations,
                            std::vector<RegisterSection>& sections,
                            const std::string& sections_file, Diagnostics& notes) {
  std::vector<ChainedLine> cut;
  std::vector<PlacedSeparation> dealt;
  std::set<std::string> taken;
  for (const ChainedLine& line : lines) {
    taken.insert(line.id);
  }
  const auto end_km = [](const PlacedSeparation& one) {
    return one.what.from_km + one.what.length_m / 1000;
  };
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const ChainedLine& line = lines[i];
    int part = 1;
    ChainedLine now = line;
    now.sections.clear();
    for (const PlacedSection& placed : line.sections) {
      const auto& supply = sections[placed.section].properties.supply;
      const auto before = now.sections.empty()
                              ? std::nullopt
                              : sections[now.sections.back().section].properties.supply;
      const bool separated = std::ranges::any_of(separations, [&](const PlacedSeparation& one) {
        return one.line == i && one.what.kind == SeparationKind::system &&
               one.what.from_km <= placed.from_km + same_place_km &&
               end_km(one) >= placed.from_km - same_place_km;
      });
      if (supply && before && supply != before && !separated) {
        notes.push_back(
            at_row(sections_file, sections[placed.section].row,
                   fmt::format(
                       "section {}: the energy supply system changes from {} to {} at km {:.9g} of "
                       "line {}, where no system separation section is known; another line begins "
                       "there, and no train is planned through",
                       last_segment(sections[placed.section].iri), name_of(*before),
                       name_of(*supply), placed.from_km, line.id)));
        cut.push_back(now);
        now.sections.clear();
        now.goes_on = true;
        do {
          now.id = fmt::format("{}.{}", line.id, ++part);
        } while (!taken.insert(now.id).second);
      }
      now.sections.push_back(placed);
    }
    cut.push_back(std::move(now));
    const std::size_t first = cut.size() - static_cast<std::size_t>(part);
    for (PlacedSeparation& one : separations) {
      if (one.line != i) {
        continue;
      }
      const auto home =
          std::find_if(cut.begin() + static_cast<std::ptrdiff_t>(first), cut.end(),
                       [&](const ChainedLine& piece) {
                         return one.what.from_km >= piece.sections.front().from_km &&
                                end_km(one) <= piece.sections.back().to_km + same_place_km;
                       });
      if (home == cut.end()) {
        sections[one.section].withhold_supply(
            "it has a separation section that lies across the end of the line");
        notes.push_back(at_row(sections_file, sections[one.section].row,
                               fmt::format("section {}: a separation section of it lies across km "
                                           "{:.9g}, where the line is cut; the section states no "
                                           "'system'",
                                           last_segment(sections[one.section].iri), end_km(one))));
        continue;
      }
      dealt.push_back(one);
      dealt.back().line = static_cast<std::size_t>(home - cut.begin());
    }
  }
  lines = std::move(cut);
  separations = std::move(dealt);
}

void withhold_where_starts_are_not_told(const std::vector<ChainedLine>& lines,
                                        const std::vector<PlacedSeparation>& separations,
                                        std::vector<RegisterSection>& sections) {
  for (const PlacedSeparation& one : separations) {
    const ChainedLine& line = lines[one.line];
    if (!line.start_told) {
      sections[one.section].withhold_supply(fmt::format(
          "it has a separation section, and where line {} begins was not told", line.id));
    }
  }
}

}  // namespace panup
