#include "pictures/separation_drawing.h"

#include <algorithm>
#include <cmath>

#include "drawing/diagram_axis.h"
#include "drawing/text_style.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr double block_height = 128;
constexpr double wire_top = 34;  // upper lane of zones
constexpr double lane = 9;       // neighbours that overlap run side by side
constexpr double strip_y = 62;   // contact strips
constexpr double join_y = 84;    // roof lines and high-voltage lines, below the strips

const SeparationSection& section_of(const Plan& plan, const SeparationMoment& moment) {
  return plan.route.separations[moment.separation];
}

double front_of(const SeparationMoment& moment) {
  return moment.moment ? moment.moment->front_m : 0;
}

/// Where the strips are, on the axis of the zones.
double middle_of(const SeparationMoment& moment, const Collector& collector) {
  return front_of(moment) - collector.behind_front_m;
}

/// The range of the axis that is drawn: all finite ends of zones, and all strips.
struct Window {
  double from_m = 0;
  double to_m = 0;
};

Window window_of(const SeparationSection& section, const SeparationMoment& moment) {
  Window window{0, section.length_m};
  const auto take_in = [&window](double at_m) {
    if (std::isfinite(at_m)) {
      window.from_m = std::min(window.from_m, at_m);
      window.to_m = std::max(window.to_m, at_m);
    }
  };
  for (const SeparationZone& zone : section.zones) {
    take_in(zone.from_m);
    take_in(zone.to_m);
  }
  const double reserve = moment.moment ? moment.moment->reserve_m : 0;
  for (const Collector& collector : moment.raised.collectors) {
    const double reach = collector.strip_extent_m / 2 + reserve;
    take_in(middle_of(moment, collector) - reach);
    take_in(middle_of(moment, collector) + reach);
  }
  const double margin = std::max(1.0, 0.04 * (window.to_m - window.from_m));
  return {window.from_m - margin, window.to_m + margin};
}

struct PlacedLabel {
  Text text;
  Point at;
  Point leads_to;
};

/// Labels beside each other in a row, each led to its place.
std::vector<PlacedLabel> row_of(const std::vector<Text>& texts, const std::vector<double>& wanted,
                                double y, double lead_y, const Columns& columns) {
  double widest = 0;
  for (const Text& text : texts) {
    widest = std::max(widest, text.width());
  }
  const std::vector<double> places = spread(wanted, widest + 5, columns.left, columns.right);
  std::vector<PlacedLabel> labels;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    labels.push_back({texts[i], {places[i] - texts[i].width() / 2, y}, {wanted[i], lead_y}});
  }
  return labels;
}

std::string numbers_of(const std::vector<std::size_t>& zones, const Words& words) {
  std::vector<int> numbers;
  for (const std::size_t zone : zones) {
    numbers.push_back(static_cast<int>(zone) + 1);
  }
  return list_words(numbers, words);
}

}  // namespace

std::string forbidden_words(const SeparationSection& section, const RaisedCollectors& raised,
                            const ForbiddenRange& range, const Words& words) {
  if (range.why == Conflict::wrong_system && !range.chain.empty()) {
    return words.say("puts {} on {}, which it is not for",
                     to_string(raised.collectors[range.chain.front().index].ref),
                     name_of(section.zones[range.first_zone], words));
  }
  std::vector<std::string> through;
  for (std::size_t i = 1; i + 1 < range.chain.size(); ++i) {
    const ChainLink& link = range.chain[i];
    through.push_back(link.what == ChainLink::What::zone ? name_of(section.zones[link.index], words)
                      : link.what == ChainLink::What::join
                          ? raised.joins[link.index].name
                          : to_string(raised.collectors[link.index].ref));
  }
  const std::string first = name_of(section.zones[range.first_zone], words);
  const std::string second = name_of(section.zones[range.second_zone], words);
  return through.empty()
             ? words.say("joins {} with {}", first, second)
             : words.say("joins {} with {} through {}", first, second, words.listed(through));
}

std::string separation_words(const Plan& plan, const SeparationMoment& moment) {
  const Words& words = plan.words;
  const SeparationSection& section = section_of(plan, moment);
  if (!moment.moment) {
    return words.say(
        "However far contact strips reached, they would join nothing that must stay apart.");
  }
  std::string text = words.say("With the front of the train at km {:.3f}:",
                               section.from_km + front_of(moment) / 1000);
  for (std::size_t i = 0; i < moment.raised.collectors.size(); ++i) {
    const bool on_any = i < moment.stage.touched.size() && !moment.stage.touched[i].empty();
    const std::string which = to_string(moment.raised.collectors[i].ref);
    text += on_any ? words.say_of(moment.stage.touched[i].size(), " {} touches zone {};",
                                  " {} touches zones {};", which,
                                  numbers_of(moment.stage.touched[i], words))
                   : words.say(" {} touches no zone;", which);
  }
  for (const HighVoltageJoin& join : moment.raised.joins) {
    std::vector<PantographRef> refs;
    for (const std::size_t collector : join.collectors) {
      refs.push_back(moment.raised.collectors[collector].ref);
    }
    text += words.say(" {} joins {};", join.name, list_words(refs, words));
  }
  for (const JoinedZones& joined : moment.stage.joined) {
    text += words.say(" zones {} are joined;", numbers_of(joined.zones, words));
  }
  const std::string what = forbidden_words(section, moment.raised, moment.moment->what, words);
  return text + (moment.moment->reserve_m > 0
                     ? words.say(" reserve {:.2f} m: strips that reached so much further, ahead "
                                 "and behind, would mean that the train {}.",
                                 moment.moment->reserve_m, what)
                     : words.say(" no reserve: the train {}.", what));
}

Block draw_separation(const TextSetter& setter, const Plan& plan, const SeparationMoment& moment,
                      const Columns& columns, double type_pt) {
  const TextStyle plain_type{.size_pt = type_pt};
  const TextStyle bold_type{.size_pt = type_pt, .weight = FontWeight::bold};
  const SeparationSection& section = section_of(plan, moment);
  const Window window = window_of(section, moment);
  const double scale = (columns.right - columns.left) / (window.to_m - window.from_m);
  // The train runs to the left, as it is drawn elsewhere: what comes later stands further left.
  const auto x_of = [=](double at_m) {
    return std::clamp(columns.right - (at_m - window.from_m) * scale, columns.left, columns.right);
  };
  struct Bar {
    double left = 0;
    double right = 0;
    double y = 0;
    ZoneKind kind{};
  };
  std::vector<Bar> bars;
  std::vector<Text> numbers;
  std::vector<double> number_places;
  for (std::size_t i = 0; i < section.zones.size(); ++i) {
    const SeparationZone& zone = section.zones[i];
    const Bar bar{x_of(zone.to_m), x_of(zone.from_m), wire_top + (i % 2 == 0 ? 0 : lane),
                  zone.kind};
    bars.push_back(bar);
    numbers.push_back(setter.set(std::to_string(i + 1), bold_type));
    number_places.push_back((bar.left + bar.right) / 2);
  }
  const auto zone_labels = row_of(numbers, number_places, 12, wire_top, columns);

  struct Strip {
    std::string of;
    double left = 0;
    double right = 0;
    double reserve = 0;
    double x = 0;
  };
  std::vector<Strip> strips;
  std::vector<Text> names;
  std::vector<double> name_places;
  const double reserve_m = moment.moment ? moment.moment->reserve_m : 0;
  for (const Collector& collector : moment.raised.collectors) {
    const double middle = middle_of(moment, collector);
    strips.push_back(
        {"pantograph " + to_string(collector.ref), x_of(middle + collector.strip_extent_m / 2),
         x_of(middle - collector.strip_extent_m / 2), reserve_m * scale, x_of(middle)});
    names.push_back(setter.set(to_string(collector.ref), bold_type));
    name_places.push_back(x_of(middle));
  }
  const auto strip_labels = row_of(names, name_places, join_y + 13, join_y + 10, columns);

  struct JoinLine {
    std::vector<double> at;
    bool dashed = false;
  };
  std::vector<JoinLine> joins;
  for (const HighVoltageJoin& join : moment.raised.joins) {
    JoinLine line{.at = {}, .dashed = join.can_be_opened};
    for (const std::size_t collector : join.collectors) {
      line.at.push_back(x_of(middle_of(moment, moment.raised.collectors[collector])));
    }
    joins.push_back(std::move(line));
  }
  const Text scale_text = setter.set(
      plan.words.say("← direction of travel.  Drawn: {:.1f} m.  Reserve: {}.",
                     window.to_m - window.from_m,
                     moment.moment ? plan.words.say("{:.2f} m ahead and behind", reserve_m)
                                   : plan.words.say("not limited")),
      plain_type);
  Block block;
  block.height = block_height;
  block.draw = [=](Canvas& canvas, double y) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
      const PartOf part(canvas, "zone " + std::to_string(i));
      const Bar& bar = bars[i];
      const double level = y + bar.y;
      if (bar.kind == ZoneKind::insulator) {
        canvas.fill(Box{bar.left, level - 3, std::max(1.0, bar.right - bar.left), 6});
      } else {
        canvas.line({bar.left, level}, {bar.right, level},
                    {.width = bar.kind == ZoneKind::live ? 2.4 : 1.0,
                     .dash = bar.kind == ZoneKind::earthed ? 3.0 : 0.0});
        canvas.line({bar.left, level - 3}, {bar.left, level + 3}, {.width = 0.8});
        canvas.line({bar.right, level - 3}, {bar.right, level + 3}, {.width = 0.8});
      }
    }
    for (std::size_t i = 0; i < zone_labels.size(); ++i) {
      const PartOf part(canvas, "zone " + std::to_string(i));
      const PlacedLabel& label = zone_labels[i];
      canvas.line({label.at.x + label.text.width() / 2, y + label.at.y + label.text.height()},
                  {label.leads_to.x, y + label.leads_to.y - 3}, {.width = 0.3});
      canvas.text(label.text, {label.at.x, y + label.at.y});
    }
    for (const Strip& strip : strips) {
      const PartOf part(canvas, strip.of);
      canvas.fill(Box{strip.left, y + strip_y, std::max(1.5, strip.right - strip.left), 4});
      if (strip.reserve > 0) {
        canvas.line({strip.left - strip.reserve, y + strip_y + 2}, {strip.left, y + strip_y + 2},
                    {.width = 0.6, .dash = 1.5});
        canvas.line({strip.right, y + strip_y + 2}, {strip.right + strip.reserve, y + strip_y + 2},
                    {.width = 0.6, .dash = 1.5});
      }
      canvas.line({strip.x, y + strip_y + 4}, {strip.x, y + join_y + 8}, {.width = 0.5});
    }
    for (std::size_t i = 0; i < joins.size(); ++i) {
      const PartOf part(canvas, "join " + std::to_string(i));
      if (joins[i].at.size() > 1) {
        const auto [least, greatest] = std::ranges::minmax(joins[i].at);
        const double level = y + join_y - 6 + 4 * static_cast<double>(i % 3);
        canvas.line({least, level}, {greatest, level},
                    {.width = 1.2, .dash = joins[i].dashed ? 4.0 : 0.0});
        for (const double x : joins[i].at) {
          canvas.disc({x, level}, 1.8);
        }
      }
    }
    for (std::size_t i = 0; i < strip_labels.size(); ++i) {
      const PartOf part(canvas, strips[i].of);
      const PlacedLabel& label = strip_labels[i];
      canvas.line({label.at.x + label.text.width() / 2, y + label.at.y},
                  {label.leads_to.x, y + label.leads_to.y - 2}, {.width = 0.3});
      canvas.text(label.text, {label.at.x, y + label.at.y});
    }
    const PartOf part(canvas, "scale");
    canvas.text(scale_text, {columns.left, y + block_height - scale_text.height() - 2});
  };
  return block;
}

}  // namespace panup
