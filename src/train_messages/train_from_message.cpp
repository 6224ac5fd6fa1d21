#include "train_messages/train_from_message.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <tuple>

#include "base/cell_values.h"
#include "base/listed.h"
#include "base/provenance_nodes.h"
#include "base/write_toml.h"
#include "files/read_train.h"

namespace panup {

namespace {

/// By which the reader of trains names the text that it checks.
constexpr std::string_view own_file = "the train of the message";

/// No wagon is shorter or longer: another unit is.
constexpr double shortest_wagon_m = 2;
constexpr double longest_wagon_m = 100;
/// How far the wagons may be from the length of the train, as a share of it, before it is told, and
/// before no rounding and no buffers explain it any more.
constexpr double told_difference = 0.05;
constexpr double wrong_difference = 0.5;

constexpr std::string_view series_source = "series";
constexpr std::string_view stated_source = "stated";

TomlEntry entry(std::string key, decltype(TomlNode::value) value) {
  return {.key = std::move(key), .node = {.value = std::move(value)}};
}

TomlDate date_of(const std::string& day) {
  TomlDate date{.is_day = true};
  for (const auto& [at, size, part] :
       {std::tuple{0, 4, &date.year}, std::tuple{5, 2, &date.month}, std::tuple{8, 2, &date.day}}) {
    std::from_chars(day.data() + at, day.data() + at + size, *part);
  }
  return date;
}

bool is_banking(const MessageLocomotive& locomotive) {
  return locomotive.mode == TractionMode::banking ||
         locomotive.mode == TractionMode::banking_not_coupled;
}

/// To the millimetre, as no message is finer.
double rounded_m(double length_m) { return std::round(length_m * 1000) / 1000; }

class TrainMaker {
 public:
  TrainMaker(const CompositionMessage& message, const StockTable& series, const Stock& stock,
             const FromMessage& how, Diagnostics& mistakes, Diagnostics& notes)
      : message_(message),
        series_(series),
        stock_(stock),
        how_(how),
        mistakes_(mistakes),
        notes_(notes) {}

  std::optional<TrainFromMessage> make() {
    const std::size_t before = mistakes_.size();
    rows_ = series_rows(series_, mistakes_);
    section_ = asked_section();
    if (section_ == nullptr) {
      return std::nullopt;
    }
    if (section_->locomotives.empty()) {
      report(section_->place, "no locomotive stands in this section of the journey");
    }
    look_at_dangerous_goods();
    if (mistakes_.size() == before) {
      add_items();
      if (!how_.whole_journey) {
        check_cabs();
      }
    }
    if (mistakes_.size() != before) {
      return std::nullopt;
    }
    check_length();
    made_.id = how_.id.empty() ? id_from(message_.train_number.empty() ? message_.identifier
                                                                       : message_.train_number,
                                         "train")
                               : how_.id;
    made_.name = how_.name.empty() ? name() : how_.name;
    made_.sources = sources();
    made_.text = head() + to_toml(root());
    check_by_reader();
    return mistakes_.size() == before ? std::optional(std::move(made_)) : std::nullopt;
  }

 private:
  void report(const SourcePlace& place, std::string text) {
    mistakes_.push_back({place, std::move(text)});
  }
  void note(const SourcePlace& place, std::string text) {
    notes_.push_back({place, std::move(text)});
  }

  std::string sections_words() const {
    std::vector<std::string> words;
    for (const JourneySection& one : message_.sections) {
      words.push_back(fmt::format("{} {} – {}", words.size() + 1, one.from, one.to));
    }
    return listed(words);
  }

  const JourneySection* asked_section() {
    if (how_.section == 0 && message_.sections.size() == 1) {
      return &message_.sections.front();
    }
    if (how_.section == 0) {
      report({.file = message_.file},
             fmt::format("the journey has {} sections; state --section with one of {}",
                         message_.sections.size(), sections_words()));
      return nullptr;
    }
    if (how_.section > message_.sections.size()) {
      report({.file = message_.file},
             fmt::format("there is no section {} of the journey; it has {}", how_.section,
                         sections_words()));
      return nullptr;
    }
    return &message_.sections[how_.section - 1];
  }

  // --- Wagons ---

  void look_at_dangerous_goods() {
    const auto& wagons = section_->wagons;
    const bool of_wagons = std::ranges::any_of(wagons, &MessageWagon::dangerous);
    all_dangerous_ = !of_wagons && section_->dangerous_goods.value_or(true);
    if (wagons.empty()) {
      if (section_->dangerous_goods.value_or(false)) {
        report(
            section_->place,
            "DangerousGoodsIndicator says that there are dangerous goods, and there is no wagon");
      }
      return;
    }
    if (!section_->dangerous_goods && !of_wagons) {
      note(section_->place,
           "whether there are dangerous goods is not stated (DangerousGoodsIndicator): all wagons "
           "count as dangerous");
    } else if (all_dangerous_) {
      note(section_->place,
           "there are dangerous goods, and no wagon says that it has them: all wagons count as "
           "dangerous");
    } else if (of_wagons && section_->dangerous_goods == false) {
      note(section_->place,
           "DangerousGoodsIndicator says that there are no dangerous goods, and wagons have them: "
           "they count as dangerous");
    }
    const bool others = !all_dangerous_ && !std::ranges::all_of(wagons, &MessageWagon::dangerous);
    if (others && !how_.other_load) {
      report(
          section_->place,
          "a message does not say whether what is not dangerous is ordinary or sensitive, as new "
          "cars on open wagons are; state --other-load");
    }
    for (const MessageWagon& wagon : wagons) {
      const double length_m = wagon.length * how_.metres_per_length_unit;
      if (length_m < shortest_wagon_m || length_m > longest_wagon_m) {
        report(
            wagon.place,
            fmt::format("wagon {} would be {:g} m long; if LengthOverBuffers is not in {}, state "
                        "--wagon-lengths-in",
                        wagon.position, length_m, unit_words()));
      }
    }
  }

  std::string_view unit_words() const {
    return how_.metres_per_length_unit == 1      ? "metres"
           : how_.metres_per_length_unit == 0.01 ? "centimetres"
                                                 : "millimetres";
  }

  LoadNature nature_of(const MessageWagon& wagon) const {
    return wagon.dangerous || all_dangerous_ ? LoadNature::dangerous
                                             : how_.other_load.value_or(LoadNature::dangerous);
  }

  /// Wagons that follow each other, from one of this place among them to that before another one.
  void add_load(std::size_t first, std::size_t end) {
    double length = 0;
    for (std::size_t i = first; i < end; ++i) {
      length += section_->wagons[i].length;
    }
    const LoadNature nature = nature_of(section_->wagons[first]);
    const double length_m = rounded_m(length * how_.metres_per_length_unit);
    const std::string which = end - first == 1 ? fmt::format("wagon {}", first + 1)
                                               : fmt::format("wagons {} to {}", first + 1, end);
    wagons_m_ += length_m;
    MessageItem item{
        .key = {},
        .is_load = true,
        .node = {.value = TomlEntries{entry("load", nature == LoadNature::dangerous
                                                        ? fmt::format("dangerous goods, {}", which)
                                                        : which),
                                      entry("nature", std::string(name_of(nature))),
                                      entry("length_m", length_m)}}};
    if (nature != LoadNature::dangerous) {
      std::get<TomlEntries>(item.node.value)
          .push_back(entry("source_of", TomlEntries{entry("nature", std::string(stated_source))}));
    }
    item.key = key_of_wagons(first, end) + value_to_toml(item.node);
    made_.items.push_back(std::move(item));
    made_.wagons += end - first;
  }

  /// Their numbers; where one has none, one that fits no other wagons.
  std::string key_of_wagons(std::size_t first, std::size_t end) const {
    std::string key;
    for (std::size_t i = first; i < end; ++i) {
      const MessageWagon& wagon = section_->wagons[i];
      key += wagon.number.empty() ? fmt::format("?{}", section_ - message_.sections.data())
                                  : wagon.number;
      key += ' ';
    }
    return key;
  }

  // --- Locomotives ---

  int behind_wagon(const MessageLocomotive& one) {
    const auto wagons = static_cast<int>(section_->wagons.size());
    if (one.behind_wagon && *one.behind_wagon > wagons) {
      report(one.place, fmt::format("{} stands behind wagon {}, and there are {}", words_for(one),
                                    *one.behind_wagon, wagons));
      return wagons;
    }
    if (one.behind_wagon) {
      return *one.behind_wagon;
    }
    if (one.mode == TractionMode::train_traction || wagons == 0) {
      return 0;
    }
    if (!is_banking(one)) {
      report(
          one.place,
          fmt::format("where {} stands is not stated: TractionPositionInTrain is missing, and it "
                      "is {}",
                      words_for(one), name_of(one.mode)));
    }
    return wagons;
  }

  static std::string words_for(const MessageLocomotive& one) {
    return one.number.empty() ? fmt::format("the locomotive of series {}", one.series)
                              : fmt::format("locomotive {}", one.number);
  }

  /// Those behind a wagon, front first: banking ones last, those of one mode by their places in the
  /// group, and else as they stand in the message.
  std::vector<const MessageLocomotive*> standing_behind(int wagon) {
    std::vector<const MessageLocomotive*> here;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (places_[i] == wagon) {
        here.push_back(&section_->locomotives[i]);
      }
    }
    std::ranges::stable_sort(here, {}, [](const auto* one) { return is_banking(*one); });
    for (const TractionMode mode :
         {TractionMode::train_traction, TractionMode::intermediate, TractionMode::banking,
          TractionMode::banking_not_coupled, TractionMode::not_working}) {
      sort_group(mode, here);
    }
    const bool mixed = std::ranges::any_of(here, [&](const auto* one) {
      return one->mode != here.front()->mode && is_banking(*one) == is_banking(*here.front());
    });
    if (mixed) {
      note(here.front()->place,
           fmt::format("{} stand in one place and are not in one group: their order is that of the "
                       "message",
                       listed(words_for_all(here))));
    }
    return here;
  }

  static std::vector<std::string> words_for_all(const std::vector<const MessageLocomotive*>& some) {
    std::vector<std::string> words;
    for (const MessageLocomotive* const one : some) {
      words.push_back(words_for(*one));
    }
    return words;
  }

  /// Puts those of a mode by their places into where ones of this mode stand.
  void sort_group(TractionMode mode, std::vector<const MessageLocomotive*>& here) {
    std::vector<std::size_t> where;
    std::vector<const MessageLocomotive*> group;
    for (std::size_t i = 0; i < here.size(); ++i) {
      if (here[i]->mode == mode) {
        where.push_back(i);
        group.push_back(here[i]);
      }
    }
    std::ranges::stable_sort(group, {}, &MessageLocomotive::place_in_group);
    for (std::size_t i = 0; i < group.size(); ++i) {
      here[where[i]] = group[i];
      if (group.size() > 1 && group[i]->place_in_group == 0) {
        report(group[i]->place, fmt::format("{} does not say its place among the {} of its group "
                                            "(the second digit of TractionMode)",
                                            words_for(*group[i]), group.size()));
      } else if (i > 0 && group[i]->place_in_group == group[i - 1]->place_in_group) {
        report(group[i]->place, fmt::format("{} and {} have the same place in their group",
                                            words_for(*group[i - 1]), words_for(*group[i])));
      }
    }
  }

  void add_vehicle(const MessageLocomotive& one) {
    ++made_.vehicles;
    const SeriesRow* const row = row_for(one, rows_);
    if (row == nullptr) {
      report(one.place, fmt::format("series {} of {} is not in {}; a row has to say which class it "
                                    "is",
                                    one.series, words_for(one), series_.file));
    }
    const VehicleType* const type = row == nullptr ? nullptr : type_of(*row);
    vehicles_m_ += type == nullptr ? 0 : type->length_m;
    if (one.traction_type.size() == 2 && one.traction_type.front() != '1') {
      note(one.place, fmt::format("TractionType {} of {} is not electric, and its class is {}",
                                  one.traction_type, words_for(one),
                                  row == nullptr ? "not known" : row->of_class));
    }
    TomlEntries entries{entry("vehicle", row == nullptr ? std::string() : row->of_class)};
    if (!one.number.empty()) {
      entries.push_back(entry("id", one.number));
    }
    entries.push_back(entry("leading_cab", leading_cab(one, row)));
    if (one.mode == TractionMode::not_working) {
      entries.push_back(entry("dead_in_tow", true));
    }
    if (how_.whole_journey && one.number.empty()) {
      report(one.place,
             fmt::format("{} has no number of 12 digits, by which it would be found again "
                         "in the next section",
                         words_for(one)));
    }
    const bool by_table = row != nullptr && row->leading_cab && !cab_was_stated_;
    entries.push_back(entry(
        "source_of",
        TomlEntries{entry("vehicle", std::string(series_source)),
                    entry("leading_cab", std::string(by_table ? series_source : stated_source))}));
    made_.items.push_back({.key = one.number,
                           .dead_in_tow = one.mode == TractionMode::not_working,
                           .node = {.value = std::move(entries)}});
  }

  const VehicleType* type_of(const SeriesRow& row) {
    const auto found =
        std::ranges::find(stock_.vehicles, row.of_class, [](const auto& type) { return type->id; });
    if (found == stock_.vehicles.end()) {
      if (stock_.ids_are_complete && wrong_classes_.insert(row.of_class).second) {
        mistakes_.push_back(
            at_cell(series_, *row.row, "class",
                    not_found_text("vehicle type", row.of_class, ids_of(stock_.vehicle_ids))));
      }
      return nullptr;
    }
    if ((*found)->kind == VehicleKind::wagon_group && wrong_classes_.insert(row.of_class).second) {
      mistakes_.push_back(
          at_cell(series_, *row.row, "class",
                  fmt::format("'{}' is a wagon group; expected a locomotive or an electric unit",
                              row.of_class)));
    }
    return found->get();
  }

  std::int64_t leading_cab(const MessageLocomotive& one, const SeriesRow* row) {
    const std::string count = fmt::format("{}", made_.vehicles);
    const auto by_count =
        how_.whole_journey ? how_.leading_cabs.end() : how_.leading_cabs.find(count);
    const auto by_number = how_.leading_cabs.find(one.number);
    std::optional<Cab> stated;
    for (const auto& found : {by_count, by_number}) {
      if (found != how_.leading_cabs.end()) {
        made_.cabs_used.insert(found->first);
        if (stated && *stated != found->second) {
          report(one.place,
                 fmt::format("--cab is stated of {} twice, and not the same", words_for(one)));
        }
        stated = found->second;
      }
    }
    cab_was_stated_ = stated.has_value();
    if (!stated && row != nullptr) {
      stated = row->leading_cab;
    }
    if (!stated) {
      report(
          one.place,
          fmt::format("which cab of {} is at the front, a message does not say; state --cab {}=1 "
                      "or =2, or 'leading_cab' in {}",
                      words_for(one), one.number.empty() ? count : one.number, series_.file));
    }
    return static_cast<std::int64_t>(stated.value_or(Cab::cab1));
  }

  void check_cabs() {
    for (const auto& [vehicle, cab] : how_.leading_cabs) {
      if (!made_.cabs_used.contains(vehicle)) {
        report(section_->place, fmt::format("--cab {}: this section of the journey has no such "
                                            "vehicle",
                                            vehicle));
      }
    }
  }

  // --- The train ---

  void add_items() {
    for (const MessageLocomotive& one : section_->locomotives) {
      places_.push_back(behind_wagon(one));
    }
    std::size_t first = 0;
    for (std::size_t i = 0; i <= section_->wagons.size(); ++i) {
      const auto here = standing_behind(static_cast<int>(i));
      const bool ends =
          i == section_->wagons.size() || !here.empty() ||
          (i > 0 && nature_of(section_->wagons[i]) != nature_of(section_->wagons[i - 1]));
      if (ends && first < i) {
        add_load(first, i);
      }
      first = ends ? i : first;
      for (const MessageLocomotive* const one : here) {
        add_vehicle(*one);
      }
    }
  }

  /// The length of the train with its locomotives, or without them: what a message means is not
  /// certain.
  void check_length() {
    if (section_->wagons.empty()) {
      return;
    }
    if (!section_->train_length_m) {
      note(
          section_->place,
          fmt::format("TrainLength is not stated: nothing confirms that the wagons are {:g} m long",
                      wagons_m_));
      return;
    }
    const double stated_m = *section_->train_length_m;
    const double off_m =
        std::min(std::abs(wagons_m_ - stated_m), std::abs(wagons_m_ + vehicles_m_ - stated_m));
    if (off_m <= told_difference * stated_m) {
      return;
    }
    const std::string words = fmt::format(
        "TrainLength is {:g} m; the wagons together are {:g} m, with locomotives {:g} m", stated_m,
        wagons_m_, rounded_m(wagons_m_ + vehicles_m_));
    if (off_m > wrong_difference * stated_m) {
      report(section_->place,
             fmt::format("{}; if LengthOverBuffers is not in {}, state --wagon-lengths-in", words,
                         unit_words()));
    } else {
      note(section_->place, words + "; the wagons are taken as they are");
    }
  }

  std::string name() const {
    const std::string way = fmt::format("{} – {}", section_->from, section_->to);
    return message_.train_number.empty() ? way : fmt::format("{}, {}", message_.train_number, way);
  }

  std::string head() const {
    std::string text = "# Made by panup from-message.\n";
    text += fmt::format("# Made at {} from\n", one_line_of(how_.made_at));
    text += fmt::format("#   {}, section {} of the journey, {} – {}\n#   SHA-256 {}\n",
                        one_line_of(message_.file), section_ - message_.sections.data() + 1,
                        section_->from, section_->to, message_.sha256);
    text += fmt::format("#   {}, {} rows\n#   SHA-256 {}\n", one_line_of(series_.file),
                        series_.rows.size(), series_.sha256);
    text += message_.identifier.empty()
                ? std::string()
                : fmt::format("# The train between companies: {}\n", message_.identifier);
    return text +
           "# Cabs, acceleration and braking are not in the message: they were stated.\n"
           "# Masses, resistance and consents are not stated here.\n\n";
  }

  TomlArray sources() const {
    return {node_of(dated({.id = std::string(source_of_message),
                           .kind = SourceKind::message,
                           .name = one_line_of(message_.file),
                           .sha256 = message_.sha256},
                          message_.sent, how_.made_at)),
            node_of(dated({.id = std::string(series_source),
                           .kind = SourceKind::table,
                           .name = one_line_of(series_.file),
                           .sha256 = series_.sha256},
                          how_.series_dated, how_.made_at)),
            // What is stated on the command line is stated on the day it is made.
            node_of(ValueSource{.id = std::string(stated_source),
                                .kind = SourceKind::by_hand,
                                .name = "stated when the file was made",
                                .date = day_text_in(how_.made_at)})};
  }

  TomlNode root() const {
    TomlEntries entries{entry("kind", std::string("train")), entry("id", made_.id),
                        entry("name", made_.name)};
    if (how_.invented) {
      entries.push_back(entry("invented", true));
    }
    entries.push_back(entry("source", std::string(source_of_message)));
    TomlArray names;
    for (const std::string& one : how_.stock_names) {
      names.push_back({.value = one});
    }
    entries.push_back(entry("stock", std::move(names)));
    if (section_->highest_speed_kmh) {
      entries.push_back(entry("highest_speed_kmh", *section_->highest_speed_kmh));
    }
    entries.push_back(entry("acceleration_ms2", how_.acceleration_ms2));
    entries.push_back(entry("braking_ms2", how_.braking_ms2));
    TomlEntries stated;
    for (const char* const key : {"acceleration_ms2", "braking_ms2"}) {
      stated.push_back(entry(key, std::string(stated_source)));
    }
    entries.push_back(entry("source_of", std::move(stated)));
    entries.push_back(entry("value_source", made_.sources));
    TomlArray consist;
    for (const MessageItem& item : made_.items) {
      consist.push_back(item.node);
    }
    entries.push_back(entry("consist", std::move(consist)));
    TomlEntries release;
    if (!message_.train_number.empty()) {
      release.push_back(entry("train_number", message_.train_number));
    }
    if (!message_.day.empty()) {
      release.push_back(entry("date", date_of(message_.day)));
    }
    if (!release.empty()) {
      entries.push_back(entry("release", std::move(release)));
    }
    return {.value = std::move(entries)};
  }

  void check_by_reader() {
    Diagnostics found;
    read_train({.file = std::string(own_file), .text = made_.text}, stock_, found);
    for (const Diagnostic& one : found) {
      report(section_->place, one.text);
    }
  }

  const CompositionMessage& message_;
  const StockTable& series_;
  const Stock& stock_;
  const FromMessage& how_;
  Diagnostics& mistakes_;
  Diagnostics& notes_;
  std::vector<SeriesRow> rows_;
  const JourneySection* section_ = nullptr;
  bool all_dangerous_ = false;
  bool cab_was_stated_ = false;  ///< of the vehicle looked at last: by `leading_cabs`
  std::vector<int> places_;      ///< of the locomotives: behind which wagon
  double wagons_m_ = 0;
  double vehicles_m_ = 0;
  std::set<std::string, std::less<>> wrong_classes_;
  TrainFromMessage made_;
};

}  // namespace

void tell_missing_pantographs(const Stock& stock, std::string_view give, Diagnostics& mistakes) {
  for (const auto& [file, ids] : stock.missing_pantographs) {
    std::vector<std::string> lines;
    for (const std::string& id : ids) {
      lines.push_back(fmt::format("id = \"{}\"", id));
    }
    mistakes.push_back(
        {{.file = file},
         fmt::format("its vehicles name pantograph types that no stock file has. Where another "
                     "stock file has them, {}. Else write them in this one, each under a line "
                     "[[pantograph]] with the line {}, and the keys that docs/input-files.md names",
                     give, listed(lines))});
  }
}

std::optional<TrainFromMessage> train_from_message(const CompositionMessage& message,
                                                   const StockTable& series, const Stock& stock,
                                                   const FromMessage& how, Diagnostics& mistakes,
                                                   Diagnostics& notes) {
  return TrainMaker(message, series, stock, how, mistakes, notes).make();
}

}  // namespace panup
