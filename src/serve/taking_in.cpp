#include "serve/taking_in.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <sstream>

#include "base/cell_values.h"
#include "base/sha256.h"
#include "base/utc_time.h"
#include "base/validity.h"
#include "files/document.h"
#include "files/read_train.h"
#include "register_rows/changes_report.h"
#include "register_rows/place_separations.h"
#include "register_rows/register_to_network.h"
#include "requests/check_text.h"
#include "serve/library_requests.h"
#include "stock_tables/stock_from_tables.h"
#include "train_messages/train_from_message.h"

namespace panup {

namespace fs = std::filesystem;

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t most_files = 8;
constexpr std::size_t most_answers = 500;
constexpr std::size_t looked_at_bytes = 20'000;

/// What a file that was dropped is, by what stands in it.
enum class Dropped : std::uint8_t {
  own_form,
  register_sections,
  register_separations,
  pantographs,
  classes,
  roofs,
  vehicles,
  wagons,
  series,
  message,
  unknown
};

/// What the page states beside the files.
struct AskedTaking {
  std::vector<SourceText> files;
  std::string path;  ///< where it would go; empty: nobody has said
  FromRegister from_register;
  FromTables from_tables;
  FromMessage from_message;
};

/// What would be taken in.
struct Taken {
  FileKind kind{};
  std::string made_of;  ///< "register", "tables", "message" or "file"
  std::string name;     ///< of the file, where nobody has said one
  std::string id;
};

bool has_word(std::string_view text, std::string_view word) {
  return text.find(word) != std::string_view::npos;
}

/// By the headings of a table, separated in any way.
Dropped table_by(std::string_view headings) {
  std::string line = ",";
  for (const char c : headings) {
    const bool separates = c == ';' || c == ',' || c == '\t' || c == '"' || c == '\r';
    line += separates ? ',' : c;
  }
  line += ',';
  const auto has = [&line](std::string_view heading) {
    return has_word(line, fmt::format(",{},", heading));
  };
  if (has("sol")) {
    return has("breakerOff") ? Dropped::register_separations : Dropped::register_sections;
  }
  return has("contact_strips")           ? Dropped::pantographs
         : has("from_cab1_m")            ? Dropped::roofs
         : has("series") && has("class") ? Dropped::series
         : has("number") && has("class") ? Dropped::vehicles
         : has("id") && has("type")      ? Dropped::classes
         : has("id") && has("length_m")  ? Dropped::wagons
                                         : Dropped::unknown;
}

Dropped what_is(const SourceText& file) {
  std::string_view text = file.text;
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text.starts_with(byte_order_mark)) {
    text.remove_prefix(byte_order_mark.size());
  }
  const std::size_t begin = text.find_first_not_of(" \t\r\n");
  text = begin == std::string_view::npos ? std::string_view() : text.substr(begin);
  if (file.file.ends_with(".toml")) {
    return Dropped::own_form;
  }
  if (text.starts_with('<') || file.file.ends_with(".xml")) {
    return Dropped::message;  // in UTF-16 it does not begin so
  }
  if (text.starts_with('{')) {
    const std::string_view head = text.substr(0, looked_at_bytes);
    return has_word(head, "\"breakerOff\"") ? Dropped::register_separations
                                            : Dropped::register_sections;
  }
  const Dropped table = table_by(text.substr(0, std::min(text.find('\n'), looked_at_bytes)));
  return table == Dropped::unknown && has_word(text, "kind") ? Dropped::own_form : table;
}

/// Reads a request; what is wrong with it is reported.
AskedTaking read_asked(RequestObject& request) {
  AskedTaking asked;
  for (RequestObject& one : request.objects("files", most_files)) {
    // The name is shown, and no path: a browser tells no more.
    const std::string name = one_line_of(one.text("name").value_or(""));
    if (name.empty()) {
      one.report("name", "a file has a name");
    }
    asked.files.push_back({.file = name, .text = one.text("text").value_or("")});
    one.finish();
  }
  if (asked.files.empty()) {
    request.report("files", "expected at least one file");
  }
  asked.path = request.text("path", Need::optional).value_or("");
  if (const std::string wrong = wrong_with_name(asked.path);
      !asked.path.empty() && !wrong.empty()) {
    request.report("path", wrong);
  }
  for (RequestObject& one : request.objects("starts", most_answers, Need::optional)) {
    const auto line = one.text("line");
    const auto km = one.number("km", {-5000, 5000});
    if (line && km) {
      asked.from_register.starts.emplace(*line, *km);
    }
    one.finish();
  }
  asked.from_register.no_other_separations =
      request.flag("no_other_separations", Need::optional).value_or(false);
  const std::string dated = request.text("dated", Need::optional).value_or("");
  if (!dated.empty() && !is_day(dated)) {
    request.report("dated", "expected a day as YYYY-MM-DD");
  }
  asked.from_register.answered = dated;
  asked.from_tables.dated = dated;
  asked.from_message.series_dated = dated;
  asked.from_tables.decimal_comma = request.flag("decimal_comma", Need::optional).value_or(false);
  FromMessage& message = asked.from_message;
  for (RequestObject& one : request.objects("cabs", most_answers, Need::optional)) {
    const auto vehicle = one.text("vehicle");
    const auto cab = one.whole("cab", 1, 2);
    if (vehicle && cab) {
      message.leading_cabs.emplace(digits_of(*vehicle), static_cast<Cab>(*cab));
    }
    one.finish();
  }
  if (const auto load = request.word("other_load", {"ordinary", "sensitive"}, Need::optional)) {
    message.other_load = *load == "ordinary" ? LoadNature::ordinary : LoadNature::sensitive;
  }
  const Range acceleration{least_acceleration_ms2, 2};
  message.acceleration_ms2 =
      request.number("acceleration_ms2", acceleration, Need::optional).value_or(0);
  message.braking_ms2 = request.number("braking_ms2", acceleration, Need::optional).value_or(0);
  message.section =
      static_cast<std::size_t>(request.whole("journey_section", 1, 99, Need::optional).value_or(0));
  const std::string now = utc_now();
  asked.from_register.made_at = now;
  asked.from_tables.made_at = now;
  message.made_at = now;
  return asked;
}

/// Takes in what one request asks for.
class TakingIn {
 public:
  TakingIn(AskedTaking& asked, const PlanningPlace& place) : asked_(asked), place_(place) {
    for (const SourceText& file : asked_.files) {
      const Dropped what = what_is(file);
      if (!by_what_.emplace(what, &file).second) {
        report(file.file, "two files of one sort were given; give them one after the other");
      }
    }
  }

  Reply reply() {
    if (!mistakes_.empty()) {
      return mistakes_reply(std::move(mistakes_));
    }
    if (const auto unknown = by_what_.find(Dropped::unknown); unknown != by_what_.end()) {
      report(unknown->second->file,
             "this is no file of panup, no answer of the infrastructure register, no table of "
             "classes, pantographs, roofs, vehicles, wagons or series, and no train composition "
             "message");
    } else if (has(Dropped::own_form)) {
      take_own();
    } else if (has(Dropped::register_sections) || has(Dropped::register_separations)) {
      take_register();
    } else if (has(Dropped::message)) {
      take_message();
    } else if (has(Dropped::series)) {
      report(file(Dropped::series).file,
             "this table belongs to a train composition message; give the message with it");
    } else {
      take_tables();
    }
    return mistakes_.empty() ? json_reply(answer_) : mistakes_reply(std::move(mistakes_));
  }

 private:
  bool has(Dropped what) const { return by_what_.contains(what); }
  const SourceText& file(Dropped what) const { return *by_what_.at(what); }
  void report(const std::string& file, std::string text) {
    mistakes_.push_back({{.file = file}, std::move(text)});
  }

  /// Only these belong together.
  bool alone(std::initializer_list<Dropped> together) {
    for (const auto& [what, other] : by_what_) {
      if (std::ranges::find(together, what) == together.end()) {
        report(other->file, "this does not belong to the other files; give it by itself");
      }
    }
    return mistakes_.empty();
  }

  /// Where the file goes: as the page says, over one of the same id, or beside those of its kind.
  std::string path_for(const Taken& taken) const {
    if (!asked_.path.empty()) {
      return asked_.path;
    }
    std::string folder;
    for (const ListedFile& file : list_files(place_.library)) {
      if (file.kind != name_of(taken.kind)) {
        continue;
      }
      const fs::path path(file.path);
      if ((!taken.id.empty() && file.id == taken.id) || path.filename() == taken.name) {
        return file.path;
      }
      folder = folder.empty() ? path.parent_path().generic_string() : folder;
    }
    return folder.empty() ? taken.name : folder + "/" + taken.name;
  }

  std::optional<SourceText> there(const std::string& path) const {
    Diagnostics not_there;
    return files_of(place_.library).load(path, not_there);
  }

  Json there_to_json(const std::string& path) const {
    const auto before = there(path);
    return before
               ? Json{{"path", path}, {"text", before->text}, {"sha256", sha256_hex(before->text)}}
               : Json(nullptr);
  }

  static Json lines_of(const Diagnostics& said) {
    Json lines = Json::array();
    for (const Diagnostic& one : said) {
      lines.push_back(to_line(one));
    }
    return lines;
  }

  void answer(const Taken& taken, const std::string& path, const std::string& text,
              const Diagnostics& notes, const std::string& told, Json asks) {
    if (const std::string wrong = wrong_with_name(path); !wrong.empty()) {
      report(path, wrong);
      return;
    }
    answer_ = {{"made_of", taken.made_of},
               {"kind", name_of(taken.kind)},
               {"path", path},
               {"text", text},
               {"there", there_to_json(path)},
               {"notes", lines_of(notes)},
               {"told", told},
               {"asks", std::move(asks)},
               {"trains", Json::array()}};
  }

  void take_own() {
    const SourceText& dropped = file(Dropped::own_form);
    if (!alone({Dropped::own_form})) {
      return;
    }
    const auto root = parse_toml(dropped, mistakes_);
    const auto kind = root ? kind_of_file(*root, dropped.file, mistakes_) : std::nullopt;
    if (!kind) {
      return;
    }
    const std::string stem = fs::path(dropped.file).stem().string();
    const Taken taken{.kind = *kind, .made_of = "file", .name = stem + ".toml", .id = {}};
    const std::string path = path_for(taken);
    const SourceText written{.file = path, .text = dropped.text};
    const FileSource files = with_texts(files_of(place_), {written});
    for (Diagnostic& mistake : mistakes_in(written, files, rule_books_of(place_))) {
      mistakes_.push_back(std::move(mistake));
    }
    answer(taken, path, dropped.text, {}, "", Json::array());
  }

  RegisterRows rows_of(Dropped what, std::span<const std::string_view> columns,
                       Diagnostics& notes) {
    const SourceText& answer = file(what);
    std::istringstream stream(answer.text);
    RegisterRows rows = read_register_rows(stream, answer.file, columns, mistakes_, notes);
    rows.sha256 = sha256_hex(answer.text);
    return rows;
  }

  void take_register() {
    for (const Dropped what : {Dropped::register_sections, Dropped::register_separations}) {
      if (!has(what)) {
        report(by_what_.begin()->second->file,
               what == Dropped::register_sections
                   ? "the answer to the query of sections is missing; give both answers together"
                   : "the answer to the query of separation sections is missing, and without it "
                     "nothing is safe; give both answers together");
      }
    }
    if (!alone({Dropped::register_sections, Dropped::register_separations})) {
      return;
    }
    FromRegister& how = asked_.from_register;
    how.id = "register";
    how.name = "From the infrastructure register";
    const Taken taken{
        .kind = FileKind::network, .made_of = "register", .name = "register.toml", .id = how.id};
    const std::string path = path_for(taken);
    const auto before = there(path);
    how.by_hand = before ? tables_by_hand(*before) : std::vector<KeptTable>{};
    how.kept = before ? kept_of_network(*before) : std::vector<KeptValue>{};
    Diagnostics notes;
    const RegisterRows sections = rows_of(Dropped::register_sections, section_columns, notes);
    const RegisterRows separations =
        rows_of(Dropped::register_separations, separation_columns, notes);
    const auto network = mistakes_.empty()
                             ? network_from_register(sections, separations, how, mistakes_, notes)
                             : std::nullopt;
    if (!network) {
      return;
    }
    std::string told;
    Diagnostics no_network;
    if (auto changes = before
                           ? network_changes(*before, network->text, no_network, network->by_hand)
                           : std::nullopt) {
      told = changes_to_text({.changes = std::move(*changes),
                              .kept = network->kept,
                              .by_hand = network->by_hand,
                              .runs = std::nullopt,
                              .written = false});
    }
    Json asks = Json::array();
    for (const ChainedLine& line : network->lines) {
      if (!line.goes_on) {
        asks.push_back({{"line", line.id},
                        {"from_km", line.sections.front().from_km},
                        {"to_km", line.sections.back().to_km},
                        {"told", line.start_told}});
      }
    }
    answer(taken, path, network->text, notes, told, std::move(asks));
  }

  std::optional<StockTable> table_of(Dropped what, const TableKind& kind) {
    return has(what) ? std::optional(read_stock_table(file(what), kind, mistakes_)) : std::nullopt;
  }

  void take_tables() {
    const StockTables tables{.pantographs = table_of(Dropped::pantographs, pantograph_table),
                             .classes = table_of(Dropped::classes, class_table),
                             .roofs = table_of(Dropped::roofs, roof_table),
                             .vehicles = table_of(Dropped::vehicles, vehicle_table),
                             .wagons = table_of(Dropped::wagons, wagon_table)};
    FromTables& how = asked_.from_tables;
    const Taken taken{
        .kind = FileKind::stock, .made_of = "tables", .name = "from-tables.toml", .id = {}};
    const std::string path = path_for(taken);
    if (const auto before = there(path)) {
      how.kept = kept_of_stock(*before);
    }
    if (!tables.pantographs) {
      how.stock = stock_texts(path);
    }
    const auto stock = stock_from_tables(tables, how, mistakes_);
    if (!stock) {
      return;
    }
    std::string told;
    for (const KeptValue& value : stock->kept) {
      told += fmt::format("- {}: {}\n", value.taken_over ? "Kept" : "Lost",
                          to_line({value.place, fmt::format("{} {}: {}", value.table, value.called,
                                                            kept_words(value, "the table"))}));
    }
    answer(taken, path, stock->text, {}, told, Json::array());
  }

  /// The stock files of the library but one.
  std::vector<SourceText> stock_texts(const std::string& but) const {
    std::vector<SourceText> texts;
    Diagnostics unsaid;
    for (const ListedFile& listed : list_files(place_.library)) {
      if (listed.kind == name_of(FileKind::stock) && listed.path != but) {
        if (auto text = files_of(place_.library).load(listed.path, unsaid)) {
          texts.push_back(std::move(*text));
        }
      }
    }
    return texts;
  }

  void take_message() {
    if (!has(Dropped::series)) {
      report(file(Dropped::message).file,
             "a message does not say of which class a locomotive is; give with it the table of "
             "series and classes (headings series, class)");
    }
    FromMessage& how = asked_.from_message;
    for (const auto& [value, words] :
         {std::pair{how.acceleration_ms2, "acceleration"}, {how.braking_ms2, "braking"}}) {
      if (value <= 0) {
        report(file(Dropped::message).file,
               fmt::format("the {} of the train is not in a message; state it", words));
      }
    }
    if (!alone({Dropped::message, Dropped::series})) {
      return;
    }
    const auto message = read_composition_message(file(Dropped::message), mistakes_);
    const StockTable series = read_stock_table(file(Dropped::series), series_table, mistakes_);
    const Stock stock = stock_of(place_.library, list_files(place_.library));
    tell_missing_pantographs(stock, "put it into the library", mistakes_);
    if (!mistakes_.empty() || !message) {
      return;
    }
    const std::string stem = fs::path(file(Dropped::message).file).stem().string();
    if (how.section == 0 && message->sections.size() > 1) {
      take_trains(*message, series, stock, stem);
      return;
    }
    const Taken taken = train_named(stem);
    const std::string path = path_for(taken);
    how.stock_names = stock_names_from(path);
    Diagnostics notes;
    const auto train = train_from_message(*message, series, stock, how, mistakes_, notes);
    if (train) {
      answer(taken, path, train->text, notes, "", Json::array());
    }
  }

  static Taken train_named(const std::string& stem) {
    return {.kind = FileKind::train, .made_of = "message", .name = stem + ".toml", .id = {}};
  }

  /// The stock files of the library, as a file at `path` names them.
  std::vector<std::string> stock_names_from(const std::string& path) const {
    std::vector<std::string> names;
    for (const SourceText& text : stock_texts("")) {
      names.push_back(
          fs::path(text.file).lexically_proximate(fs::path(path).parent_path()).generic_string());
    }
    return names;
  }

  /// Of a journey in several sections a train each, of which any may be taken. What is wrong with
  /// one of them does not keep the others back; the answer is that of the first that can be made.
  void take_trains(const CompositionMessage& message, const StockTable& series, const Stock& stock,
                   const std::string& stem) {
    if (!asked_.path.empty()) {
      report(file(Dropped::message).file,
             "the message has several trains, and one path is no place for them; leave it out, or "
             "state the section of the journey");
      return;
    }
    const std::string id =
        id_from(message.train_number.empty() ? message.identifier : message.train_number, "train");
    Json trains = Json::array();
    Diagnostics wrong;
    for (std::size_t number = 1; number <= message.sections.size(); ++number) {
      const Taken taken = train_named(fmt::format("{}-{}", stem, number));
      const std::string path = path_for(taken);
      FromMessage how = asked_.from_message;
      how.section = number;
      how.id = fmt::format("{}-{}", id, number);
      how.whole_journey = true;  // a cab may be that of a vehicle of another section
      how.stock_names = stock_names_from(path);
      Diagnostics mistakes;
      Diagnostics notes;
      const auto train = train_from_message(message, series, stock, how, mistakes, notes);
      if (train && answer_.is_null()) {
        answer(taken, path, train->text, notes, "", Json::array());
      }
      const JourneySection& section = message.sections[number - 1];
      trains.push_back({{"journey_section", number},
                        {"from", section.from},
                        {"to", section.to},
                        {"path", path},
                        {"text", train ? Json(train->text) : Json(nullptr)},
                        {"there", there_to_json(path)},
                        {"notes", lines_of(notes)},
                        {"mistakes", lines_of(mistakes)}});
      wrong.insert(wrong.end(), mistakes.begin(), mistakes.end());
    }
    if (answer_.is_null()) {
      mistakes_ = std::move(wrong);
    } else {
      answer_["trains"] = std::move(trains);
    }
  }

  AskedTaking& asked_;
  const PlanningPlace& place_;
  std::map<Dropped, const SourceText*> by_what_;
  Diagnostics mistakes_;
  Json answer_;
};

}  // namespace

Reply reply_to_taking_in(const std::string& body, const PlanningPlace& place) {
  AskedTaking asked;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) { asked = read_asked(request); })) {
    return *wrong;
  }
  return TakingIn(asked, place).reply();
}

}  // namespace panup
