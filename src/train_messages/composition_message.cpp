#include "train_messages/composition_message.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <iterator>

#include "base/cell_values.h"
#include "base/provenance_nodes.h"
#include "base/sha256.h"
#include "base/validity.h"
#include "train_messages/xml_tree.h"

namespace panup {

namespace {

constexpr std::string_view root_name = "TrainCompositionMessage";
constexpr std::size_t digits_of_vehicle_number = 12;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_digits(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, is_digit);
}

class MessageReader {
 public:
  MessageReader(const SourceText& source, Diagnostics& mistakes)
      : source_(source), mistakes_(mistakes) {}

  std::optional<CompositionMessage> read() {
    const std::size_t before = mistakes_.size();
    const auto tree = read_xml(source_, mistakes_);
    if (!tree || !is_composition(*tree)) {
      return std::nullopt;
    }
    CompositionMessage message{.file = source_.file,
                               .sha256 = sha256_hex(source_.text),
                               .train_number = {},
                               .identifier = {},
                               .day = {},
                               .sent = {},
                               .sections = {}};
    read_head(tree->root, message);
    for (const XmlElement& one : tree->root.children) {
      if (one.name == "TrainCompositionJourneySection") {
        if (message.sections.size() == most_journey_sections) {
          report(one, fmt::format("there are more than {} sections of the journey",
                                  most_journey_sections));
          break;
        }
        message.sections.push_back(read_section(one));
      }
    }
    if (message.sections.empty()) {
      report(tree->root,
             "the message has no TrainCompositionJourneySection, and so says nothing of a train");
    }
    return mistakes_.size() == before ? std::optional(std::move(message)) : std::nullopt;
  }

 private:
  SourcePlace place_of(const XmlElement& element) const {
    return {.file = source_.file, .line = element.line, .column = element.column};
  }

  void report(const XmlElement& element, std::string text) {
    mistakes_.push_back({place_of(element), std::move(text)});
  }

  bool is_composition(const XmlTree& tree) {
    if (tree.root.name != root_name) {
      report(tree.root, fmt::format("this is a '{}', expected a {}", tree.root.name, root_name));
      return false;
    }
    if (std::ranges::find(composition_namespaces, tree.name_space) ==
        composition_namespaces.end()) {
      report(tree.root, fmt::format("{}; messages of these are read: {}",
                                    tree.name_space.empty()
                                        ? std::string("the message has no namespace")
                                        : fmt::format("the namespace is '{}'", tree.name_space),
                                    fmt::join(composition_namespaces, ", ")));
      return false;
    }
    return true;
  }

  void report_missing(const XmlElement& in, std::string_view name) {
    report(in, fmt::format("{} is missing in {}", name, in.name));
  }

  void report_unlike(const XmlElement& element, std::string_view expected) {
    report(element, fmt::format("{} is '{}'; expected {}", element.name, one_line_of(element.text),
                                expected));
  }

  std::optional<int> whole(const XmlElement& element, int least, int greatest) {
    int number = 0;
    const char* const last = element.text.data() + element.text.size();
    const auto [end, error] = std::from_chars(element.text.data(), last, number);
    if (error == std::errc() && end == last && number >= least && number <= greatest) {
      return number;
    }
    report_unlike(element, fmt::format("a whole number from {} to {}", least, greatest));
    return std::nullopt;
  }

  std::optional<double> above_zero(const XmlElement* element, double greatest) {
    if (element == nullptr) {
      return std::nullopt;
    }
    const auto number = number_in_cell(element->text);
    if (!number || *number <= 0 || *number > greatest) {
      report_unlike(*element, fmt::format("a number above 0, up to {:g}", greatest));
      return std::nullopt;
    }
    return number;
  }

  std::optional<bool> yes_or_no(const XmlElement* element) {
    if (element == nullptr) {
      return std::nullopt;
    }
    if (element->text == "1" || element->text == "true") {
      return true;
    }
    if (element->text == "0" || element->text == "false") {
      return false;
    }
    report_unlike(*element, "0 or 1");
    return std::nullopt;
  }

  // --- The message as a whole ---

  void read_head(const XmlElement& root, CompositionMessage& message) {
    if (const XmlElement* const status = root.child("MessageStatus")) {
      const auto what = whole(*status, 1, 3);
      if (what == 3) {
        report(*status,
               "MessageStatus is 3: the message takes a composition back, and none can be made of "
               "it");
      }
    }
    read_identifiers(root, message);
    if (const XmlElement* const sent =
            root.at({"MessageHeader", "MessageReference", "MessageDateTime"})) {
      message.sent = day_text_in(sent->text);
    }
    const XmlElement* const number =
        root.at({"OperationalTrainNumberIdentifier", "OperationalTrainNumber"});
    message.train_number = number == nullptr ? std::string() : one_line_of(number->text);
  }

  void read_identifiers(const XmlElement& root, CompositionMessage& message) {
    const auto found = std::ranges::find_if(root.children, [](const XmlElement& one) {
      const XmlElement* const type = one.child("ObjectType");
      return one.name == "TransportOperationalIdentifiers" && type != nullptr && type->text == "TR";
    });
    if (found == root.children.end()) {
      return;
    }
    for (const std::string_view part : {"Company", "Core", "Variant", "TimetableYear"}) {
      if (const XmlElement* const element = found->child(part)) {
        message.identifier += (message.identifier.empty() ? "" : " ") + one_line_of(element->text);
      }
    }
    if (const XmlElement* const start = found->child("StartDate")) {
      message.day = start->text.substr(0, 10);
      const std::string_view zone = std::string_view(start->text).substr(message.day.size());
      if (!is_day(message.day) ||
          (!zone.empty() && zone.front() != 'Z' && zone.front() != '+' && zone.front() != '-')) {
        report_unlike(*start, "a day, as YYYY-MM-DD");
      }
    }
  }

  // --- A section of the journey ---

  std::string location(const XmlElement& section, std::string_view end) {
    const XmlElement* const place = section.at({"JourneySection", end});
    if (place == nullptr) {
      report_missing(section, fmt::format("JourneySection with {}", end));
      return {};
    }
    const XmlElement* const name = place->child("PrimaryLocationName");
    if (name != nullptr && !name->text.empty()) {
      return one_line_of(name->text);
    }
    const XmlElement* const country = place->child("CountryCodeISO");
    const XmlElement* const code = place->child("LocationPrimaryCode");
    if (country == nullptr || code == nullptr) {
      report_missing(*place, "PrimaryLocationName, or CountryCodeISO with LocationPrimaryCode,");
      return {};
    }
    return one_line_of(country->text + " " + code->text);
  }

  static std::string location_code(const XmlElement& section, std::string_view end) {
    const XmlElement* const country = section.at({"JourneySection", end, "CountryCodeISO"});
    const XmlElement* const code = section.at({"JourneySection", end, "LocationPrimaryCode"});
    return country == nullptr || code == nullptr ? std::string()
                                                 : one_line_of(country->text + " " + code->text);
  }

  JourneySection read_section(const XmlElement& element) {
    JourneySection section;
    section.place = place_of(element);
    section.from = location(element, "JourneySectionOrigin");
    section.to = location(element, "JourneySectionDestination");
    section.from_code = location_code(element, "JourneySectionOrigin");
    section.to_code = location_code(element, "JourneySectionDestination");
    constexpr double longest_train_m = 5000;
    constexpr double fastest_kmh = 400;
    section.train_length_m = above_zero(
        element.at({"TrainRunningData", "TrainRunningTechData", "TrainLength"}), longest_train_m);
    section.highest_speed_kmh = above_zero(
        element.at({"TrainRunningData", "TrainRunningTechData", "TrainMaxSpeed"}), fastest_kmh);
    section.dangerous_goods =
        yes_or_no(element.at({"TrainRunningData", "DangerousGoodsIndicator"}));
    for (const XmlElement& one : element.children) {
      if (one.name == "LocoIdent") {
        add_locomotive(one, section);
      } else if (one.name == "WagonData") {
        add_wagon(one, section);
      }
    }
    put_in_order(section);
    return section;
  }

  void add_locomotive(const XmlElement& element, JourneySection& section) {
    if (section.locomotives.size() == most_message_locomotives) {
      report(element,
             fmt::format("a section has more than {} locomotives", most_message_locomotives));
    }
    if (section.locomotives.size() < most_message_locomotives) {
      section.locomotives.push_back(read_locomotive(element));
    }
  }

  void add_wagon(const XmlElement& element, JourneySection& section) {
    if (section.wagons.size() == most_message_wagons) {
      report(element, fmt::format("a section has more than {} wagons", most_message_wagons));
    }
    if (section.wagons.size() < most_message_wagons) {
      section.wagons.push_back(read_wagon(element));
    }
  }

  MessageLocomotive read_locomotive(const XmlElement& element) {
    MessageLocomotive locomotive;
    locomotive.place = place_of(element);
    read_number(element, locomotive);
    if (const XmlElement* const mode = element.child("TractionMode")) {
      read_mode(*mode, locomotive);
    } else {
      report_missing(element, "TractionMode");
    }
    if (const XmlElement* const position = element.child("TractionPositionInTrain")) {
      locomotive.behind_wagon = whole(*position, 0, static_cast<int>(most_message_wagons));
    }
    if (const XmlElement* const type = element.child("TractionType")) {
      locomotive.traction_type = one_line_of(type->text);
    }
    return locomotive;
  }

  /// By its parts, or as one number.
  void read_number(const XmlElement& element, MessageLocomotive& locomotive) {
    const XmlElement* const parts = element.child("LocoTypeNumber");
    const XmlElement* const whole_number = element.child("LocoNumber");
    const std::string digits = whole_number == nullptr ? "" : digits_of(whole_number->text);
    if (whole_number != nullptr && digits.size() != digits_of_vehicle_number) {
      report_unlike(*whole_number, "a vehicle number of 12 digits");
    } else if (whole_number != nullptr) {
      locomotive.number = digits;
      locomotive.country = digits.substr(2, 2);
      locomotive.series = digits.substr(4, 4);
      locomotive.serial = digits.substr(8, 3);
    }
    if (parts == nullptr) {
      if (whole_number == nullptr) {
        report_missing(element, "LocoTypeNumber");
      }
      return;
    }
    const XmlElement* const series = parts->child("SeriesNumber");
    if (series == nullptr) {
      report_missing(*parts, "SeriesNumber");
      return;
    }
    if (!is_digits(series->text)) {
      report_unlike(*series, "digits");
      return;
    }
    if (!locomotive.series.empty() && locomotive.series != series->text) {
      report(*series, fmt::format("SeriesNumber is {}, and LocoNumber has the series {}",
                                  one_line_of(series->text), locomotive.series));
      return;
    }
    locomotive.series = one_line_of(series->text);
    const auto digits_in = [&](std::string_view name) {
      const XmlElement* const part = parts->child(name);
      if (part != nullptr && !is_digits(part->text)) {
        report_unlike(*part, "digits");
      }
      return part == nullptr ? std::string() : one_line_of(part->text);
    };
    const std::string type = digits_in("TypeCode1") + digits_in("TypeCode2");
    locomotive.country = digits_in("CountryCode");
    locomotive.serial = digits_in("SerialNumber");
    const std::string number = type + locomotive.country + locomotive.series + locomotive.serial +
                               digits_in("ControlDigit");
    if (number.size() == digits_of_vehicle_number) {
      if (!locomotive.number.empty() && locomotive.number != number) {
        report(*parts, fmt::format("LocoTypeNumber gives {}, and LocoNumber is {}", number,
                                   locomotive.number));
      }
      locomotive.number = number;
    }
  }

  void read_mode(const XmlElement& element, MessageLocomotive& locomotive) {
    const std::string& text = element.text;
    if (!is_digits(text) || text.size() > 2 || text[0] < '1' || text[0] > '5') {
      report_unlike(element,
                    "two digits: 1 train traction, 2 intermediate, 3 banking, 4 banking and not "
                    "coupled or 5 not working, then the place in the group");
      return;
    }
    locomotive.mode = static_cast<TractionMode>(text[0] - '0');
    locomotive.place_in_group = text.size() == 2 ? text[1] - '0' : 0;
  }

  MessageWagon read_wagon(const XmlElement& element) {
    MessageWagon wagon;
    wagon.place = place_of(element);
    if (const XmlElement* const number = element.child("WagonNumberFreight")) {
      wagon.number = digits_of(number->text);
    }
    if (const XmlElement* const position = element.child("WagonTrainPosition")) {
      wagon.position = whole(*position, 1, static_cast<int>(most_message_wagons)).value_or(0);
    } else {
      report_missing(element, "WagonTrainPosition");
    }
    constexpr double any_length = 100'000;
    const XmlElement* const length = element.at({"WagonTechData", "LengthOverBuffers"});
    if (length == nullptr) {
      report(element,
             "WagonTechData with LengthOverBuffers is missing in WagonData: without it "
             "nobody can say how long the load is");
    }
    wagon.length = above_zero(length, any_length).value_or(0);
    wagon.dangerous = names_dangerous_goods(element);
    return wagon;
  }

  /// Wherever in the wagon they stand: overlooking them would be worst.
  bool names_dangerous_goods(const XmlElement& element) {
    if (element.name == "DangerousGoodsIndicator") {
      return yes_or_no(&element).value_or(true);
    }
    return element.name.starts_with("DangerousGoods") ||
           std::ranges::any_of(element.children, [this](const XmlElement& child) {
             return names_dangerous_goods(child);
           });
  }

  void put_in_order(JourneySection& section) {
    std::ranges::stable_sort(section.wagons, {}, &MessageWagon::position);
    int expected = 0;
    for (const MessageWagon& wagon : section.wagons) {
      ++expected;
      // One that is no number has been told.
      if (wagon.position == 0) {
        return;
      }
      if (wagon.position != expected) {
        mistakes_.push_back(
            {wagon.place,
             wagon.position < expected
                 ? fmt::format("WagonTrainPosition {} stands here a second time", wagon.position)
                 : fmt::format("WagonTrainPosition is {}, and no wagon of this section has {}",
                               wagon.position, expected)});
        return;
      }
    }
  }

  const SourceText& source_;
  Diagnostics& mistakes_;
};

}  // namespace

std::string_view name_of(TractionMode mode) {
  switch (mode) {
    case TractionMode::train_traction:
      return "train traction";
    case TractionMode::intermediate:
      return "intermediate";
    case TractionMode::banking:
      return "banking";
    case TractionMode::banking_not_coupled:
      return "banking, not coupled";
    case TractionMode::not_working:
      return "not working";
  }
  return {};
}

std::optional<CompositionMessage> read_composition_message(const SourceText& source,
                                                           Diagnostics& mistakes) {
  return MessageReader(source, mistakes).read();
}

std::string digits_of(std::string_view number) {
  std::string digits;
  std::ranges::copy_if(number, std::back_inserter(digits),
                       [](char c) { return c != ' ' && c != '-'; });
  return is_digits(digits) ? digits : std::string();
}

}  // namespace panup
