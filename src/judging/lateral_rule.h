#pragma once

#include <optional>
#include <string>
#include <vector>

#include "judging/facts/lateral_position.h"
#include "judging/facts/running_train.h"
#include "line/route.h"
#include "rules/rule_book.h"

namespace panup {

/// A rule of kind `lateral_position` and the wind it is asked for.
struct WindOnWire {
  const Rule* rule = nullptr;
  WindLoad load;  ///< without the wires
  double gust_factor = 1;
  double speed_ms = 0;  ///< that is judged: of the day, or the line's design wind
  bool known = false;
  bool of_the_day = false;
};
/// The rule in force with the wind of the day, or else the line's design wind; nothing where no
/// such rule is in force. The rule book must outlive the result.
std::optional<WindOnWire> wind_on_wire(const RuleBook& rules, std::optional<double> wind_ms);

/// The same on a section that may have a wind of its own.
WindOnWire wind_here(const WindOnWire& wind, const LineProperties& section);

/// How far from the middle of the track the wire may lie under a head.
struct PermittedPosition {
  double position_m = 0;
  bool assumed = false;  ///< of a head whose working width nobody states
};

/// By head width and, where it is stated, working width; the smaller of the two where both speak.
/// May be below 0: then no wire lies well under it. `rule` is of kind `lateral_position`.
PermittedPosition permitted_position(const Rule& rule, const PantographType& type);

/// Where the weakest span of a section puts the wire on heads of one type.
struct LateralMargin {
  std::vector<PantographRef> heads;  ///< front first
  double head_width_mm = 0;
  double permitted_m = 0;  ///< from the middle of the track
  bool assumed = false;    ///< as in `PermittedPosition`
  SpanType span;           ///< the one that holds least
  bool wind_known = false;
  bool wind_of_the_day = false;    ///< else the line's design wind
  double wind_ms = 0;              ///< without gusts
  double position_m = 0;           ///< of the wire in that wind and its gusts; else in the calm
  std::string rule = {};           ///< id of the rule that it is held against
  std::optional<double> holds_ms;  ///< greatest wind it holds; nothing: not even a calm

  bool holds() const { return holds_ms && !(wind_ms > *holds_ms); }
};

/// For each type of raised head; empty where no rule of kind `lateral_position` is in force or the
/// section states no spans. `wind_ms` is that of the day.
std::vector<LateralMargin> lateral_margins(const RuleBook& rules, std::optional<double> wind_ms,
                                           const RunningTrain& train, const LineProperties& section,
                                           PantographSet raised);

/// "span of 65 m with staggers of 300 and -300 mm, curve of 900 m".
std::string span_words(const SpanType& span, const Words& words);

}  // namespace panup
