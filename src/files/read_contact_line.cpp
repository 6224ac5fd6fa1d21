#include "files/read_contact_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "files/check_contact_line.h"
#include "files/document.h"
#include "files/read_line_parts.h"

namespace panup {

namespace {

constexpr int most_spans = 500;
constexpr Range span_length_range_m{5, longest_span_m};
/// What a span's droppers are called where it has none.
constexpr std::string_view no_droppers = "none";

/// Named things that spans refer to; without a value where the thing has mistakes.
template <typename Thing>
using Named = std::map<std::string, std::optional<Thing>, std::less<>>;

/// The table that `table` is like; null, and a diagnostic, where there is none to be like.
TomlTable* base_of(TomlTable& table, std::string_view key, const std::string& like,
                   std::vector<std::pair<std::string, TomlTable>>& tables) {
  std::vector<std::string> names;
  for (auto& [name, other] : tables) {
    if (name != like) {
      names.push_back(name);
    } else if (!other.has("like")) {
      return &other;
    } else {
      table.report_at("like",
                      fmt::format("'{}' is itself like another; name one that is not", like));
      return nullptr;
    }
  }
  table.report_at("like", not_found_text(fmt::format("[{}.NAME] called", key), like, names));
  return nullptr;
}

/// Takes out of what was found in a table, from `first` on, what is the fault of the table that it
/// is like, and is said of that.
void drop_faults_of_base(Diagnostics& diagnostics, std::size_t first, const SourcePlace& place,
                         const Diagnostics& of_base) {
  const auto same = [](const SourcePlace& a, const SourcePlace& b) {
    return a.line == b.line && a.column == b.column;
  };
  const auto dropped =
      std::remove_if(diagnostics.begin() + static_cast<std::ptrdiff_t>(first), diagnostics.end(),
                     [&](const Diagnostic& found) {
                       return std::ranges::any_of(of_base, [&](const Diagnostic& known) {
                         return found.text == known.text &&
                                (same(found.place, known.place) || same(found.place, place));
                       });
                     });
  diagnostics.erase(dropped, diagnostics.end());
}

/// Takes out of what was found in a table, from `first` on, what is said of the table as a whole:
/// keys that are missing, where it is not known what the table would take from another.
void drop_missing_keys(Diagnostics& diagnostics, std::size_t first, const SourcePlace& place) {
  const auto dropped =
      std::remove_if(diagnostics.begin() + static_cast<std::ptrdiff_t>(first), diagnostics.end(),
                     [&](const Diagnostic& found) {
                       return found.place.line == place.line && found.place.column == place.column;
                     });
  diagnostics.erase(dropped, diagnostics.end());
}

/// Reads the tables [key.NAME]; each may be `like` another, whose keys it then takes where it does
/// not state them.
template <typename Thing, typename Read>
Named<Thing> read_named(TomlTable& root, std::string_view key, Diagnostics& diagnostics,
                        const Read& read) {
  Named<Thing> all;
  std::map<std::string, Diagnostics, std::less<>> mistakes_of;
  auto tables = root.named_tables(key);
  for (const bool with_like : {false, true}) {
    for (auto& [name, table] : tables) {
      if (table.has("like") != with_like) {
        continue;
      }
      const std::size_t first = diagnostics.size();
      const TomlTable own = table;
      all[name] = std::nullopt;
      const auto like = table.text("like");
      TomlTable* const base = like ? base_of(table, key, *like, tables) : nullptr;
      if (base != nullptr) {
        table.set_fallback(*base);
      }
      Thing thing = read(table, own);
      table.finish();
      if (with_like && base == nullptr) {
        drop_missing_keys(diagnostics, first, table.place());
        continue;
      }
      if (diagnostics.size() == first) {
        all[name] = std::move(thing);
      } else if (base != nullptr) {
        drop_faults_of_base(diagnostics, first, table.place(), mistakes_of[*like]);
      } else {
        mistakes_of[name].assign(diagnostics.begin() + static_cast<std::ptrdiff_t>(first),
                                 diagnostics.end());
      }
    }
  }
  return all;
}

template <typename Thing>
std::vector<std::string> names_of(const Named<Thing>& all) {
  std::vector<std::string> names;
  for (const auto& [name, thing] : all) {
    names.push_back(name);
  }
  return names;
}

/// The thing, of all that are described by [what.NAME], that a key names; without the key, the only
/// one there is. Null, and a diagnostic, where there is none.
template <typename Thing>
const std::optional<Thing>* choose(TomlTable& table, std::string_view key, std::string_view what,
                                   const Named<Thing>& all) {
  if (!table.has(key)) {
    if (all.size() == 1) {
      return &all.begin()->second;
    }
    table.report(
        table.place(),
        all.empty()
            ? fmt::format("key '{}' is missing, and no [{}.NAME] is there", key, what)
            : fmt::format("key '{}' is missing; it is one of {}", key, quoted_list(names_of(all))));
    return nullptr;
  }
  const auto name = table.text(key);
  if (!name) {
    return nullptr;
  }
  const auto found = all.find(*name);
  if (found == all.end()) {
    table.report_at(key,
                    not_found_text(fmt::format("[{}.NAME] called", what), *name, names_of(all)));
    return nullptr;
  }
  return &found->second;
}

/// The pattern laid into a span.
std::vector<Dropper> droppers_in(TomlTable& table, const DropperPattern& pattern, double length_m) {
  std::vector<double> places = pattern.at_m;
  if (pattern.number > 0) {
    const double distance = (length_m - 2 * pattern.first_m) / (pattern.number - 1);
    if (distance < least_dropper_distance_m) {
      table.report_at(
          "droppers",
          fmt::format("{} droppers, the first {:g} m from the support, do not fit into a span of "
                      "{:g} m: at least {:g} m is needed from one to the next",
                      pattern.number, pattern.first_m, length_m, least_dropper_distance_m));
      return {};
    }
    for (int i = 0; i < pattern.number; ++i) {
      places.push_back(pattern.first_m + i * distance);
    }
  } else if (!places.empty() && places.back() > length_m - least_dropper_distance_m) {
    table.report_at("droppers",
                    fmt::format("the dropper at {:g} m does not fit into a span of {:g} m: it "
                                "stands at least {:g} m from either support",
                                places.back(), length_m, least_dropper_distance_m));
    return {};
  }
  std::vector<Dropper> droppers;
  for (const double at : places) {
    droppers.push_back(pattern.dropper);
    droppers.back().at_m = at;
  }
  return droppers;
}

class LineReader {
 public:
  LineReader(TomlTable& root, Diagnostics& diagnostics) : root_(root), diagnostics_(diagnostics) {}

  ContactLine read() {
    const std::size_t mistakes = diagnostics_.size();
    line_.id = root_.id("id", Need::required).value_or("");
    line_.name = root_.text("name").value_or(line_.id);
    line_.invented = root_.flag("invented").value_or(false);
    line_.source = root_.text("source").value_or("");
    line_.place = root_.place();
    read_termination();
    line_.mass_damping_per_s = root_.number("mass_damping_per_s", {0, 10}).value_or(0);
    line_.stiffness_damping_s = root_.number("stiffness_damping_s", {0, 0.1}).value_or(0);
    line_.contact_wire_height_m = root_.number("contact_wire_height_m", {4, 8});
    line_.uplift_space_mm = root_.number("uplift_space_mm", {20, 1000});
    line_.uplift_limited_by_design = root_.flag("uplift_limited_by_design").value_or(false);
    wires_ = read_line_wires(root_, diagnostics_);
    supports_ = read_named<SupportEntry>(
        root_, "support", diagnostics_,
        [](TomlTable& table, const TomlTable&) { return read_support(table); });
    patterns_ = read_named<DropperPattern>(
        root_, "droppers", diagnostics_,
        [](TomlTable& table, const TomlTable& own) { return read_pattern(table, own); });
    check_stitch_wires_are_described();
    read_spans();
    root_.finish();
    if (diagnostics_.size() == mistakes) {
      finish();
    }
    return std::move(line_);
  }

 private:
  void read_termination() {
    const auto termination = root_.word("termination", {"auto-tensioned", "fixed"}, Need::required);
    line_.termination = termination == "fixed" ? Termination::fixed : Termination::auto_tensioned;
    line_.reference_temperature_c =
        root_
            .number("reference_temperature_c", {-40, 60},
                    termination == "fixed" ? Need::required : Need::optional)
            .value_or(line_.reference_temperature_c);
  }

  void check_stitch_wires_are_described() {
    bool used = false;
    bool all_right = true;
    for (const auto& [name, entry] : supports_) {
      all_right = all_right && entry.has_value();
      if (entry && entry->stitch_wire_length_m > 0) {
        used = true;
        if (!wires_.stitch_given) {
          root_.report(entry->stitch_wire_place,
                       "table [wire.stitch], which says what wire that is, is missing");
        }
      }
    }
    if (wires_.stitch_given && all_right && !used) {
      root_.report(wires_.stitch_place,
                   "no support has a stitch wire: none states 'stitch_wire_length_m' above 0");
    }
  }

  /// At its clamps a stitch wire takes its tension from the messenger wire.
  void check_stitch_tension() {
    if (!wires_.stitch || wires_.stitch->tension_n < line_.messenger_wire.tension_n) {
      return;
    }
    root_.report(wires_.stitch_tension,
                 fmt::format("the stitch wire's tension of {:g} N is no less than the messenger "
                             "wire's, {:g} N; between the clamps none would be left for that",
                             wires_.stitch->tension_n, line_.messenger_wire.tension_n));
  }

  void read_spans() {
    const std::optional<SupportEntry>* support = nullptr;
    bool too_many = false;
    for (TomlTable& table : root_.tables("span", Need::required)) {
      const int repeat = table.whole("repeat", 1, most_spans).value_or(1);
      const auto length = table.number("length_m", span_length_range_m, Need::required);
      Span span;
      span.length_m = length.value_or(0);
      span.pre_sag_m = table.number("pre_sag_mm", {0, 200}, Need::required).value_or(0) / 1000;
      support = choose(table, "support", "support", supports_);
      const bool bare = !patterns_.contains(no_droppers) && table.is_text("droppers") &&
                        table.text("droppers") == no_droppers;
      if (bare && span.pre_sag_m > 0) {
        table.report_at("pre_sag_mm",
                        fmt::format("this span has no droppers, and nothing holds the contact wire "
                                    "on a pre-sag of {:g} mm; expected 0",
                                    1000 * span.pre_sag_m));
      }
      if (!bare) {
        const auto* const pattern = choose(table, "droppers", "droppers", patterns_);
        if (pattern != nullptr && pattern->has_value() && length) {
          span.droppers = droppers_in(table, **pattern, *length);
        }
      }
      table.finish();
      if (too_many) {
        continue;
      }
      count_ += repeat;
      if (count_ > most_spans) {
        table.report(table.place(), fmt::format("with these spans the line has {}; at most {}",
                                                count_, most_spans));
        too_many = true;
        continue;
      }
      for (int i = 0; i < repeat; ++i) {
        line_.spans.push_back(span);
        places_.spans.push_back(table.place());
        places_.pre_sags.push_back(table.place_of("pre_sag_mm"));
        places_.droppers.push_back(table.place_of("droppers"));
        add_support(support);
      }
    }
    add_support(root_.has("last_support") ? choose(root_, "last_support", "support", supports_)
                                          : support);
  }

  void add_support(const std::optional<SupportEntry>* entry) {
    const bool known = entry != nullptr && entry->has_value();
    line_.supports.push_back(known ? (*entry)->support : Support{});
    const double length = known ? (*entry)->stitch_wire_length_m : 0;
    if (length > 0 && wires_.stitch) {
      line_.supports.back().stitch_wire = StitchWire{*wires_.stitch, length};
    }
  }

  /// Puts the parts together; there is no mistake in any of them.
  void finish() {
    line_.contact_wire = *wires_.contact;
    line_.messenger_wire = *wires_.messenger;
    line_.contact_wires = wires_.contact_wires;
    // At its ends a line has a termination, and no span beyond that a stitch wire could reach into.
    line_.supports.front().stitch_wire.reset();
    line_.supports.back().stitch_wire.reset();
    check_stitch_tension();
    places_.contact_tension = wires_.contact_tension;
    places_.messenger_tension = wires_.messenger_tension;
    check_contact_line(line_, places_, diagnostics_);
  }

  TomlTable& root_;
  Diagnostics& diagnostics_;
  ContactLine line_;
  ContactLinePlaces places_;
  LineWires wires_;
  Named<SupportEntry> supports_;
  Named<DropperPattern> patterns_;
  int count_ = 0;
};

}  // namespace

std::optional<ContactLine> read_contact_line(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  if (!root_node) {
    return std::nullopt;
  }
  auto root = root_of(*root_node, source.file, FileKind::contact_line, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  ContactLine line = LineReader(*root, diagnostics).read();
  return diagnostics.size() == mistakes ? std::optional(std::move(line)) : std::nullopt;
}

std::optional<ContactLine> read_contact_line_file(const std::string& path, Diagnostics& diagnostics,
                                                  const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_contact_line(*source, diagnostics) : std::nullopt;
}

}  // namespace panup
