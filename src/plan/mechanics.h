#pragma once

#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "judging/computed_speed.h"
#include "judging/judged_case.h"
#include "plan/plan.h"
#include "quality/permitted_speed.h"

namespace panup {

/// A configuration on a contact line, as the mechanics is asked for it.
struct MechanicsQuestion {
  struct Raised {
    const PantographType* type = nullptr;
    bool knuckle_leading = false;
    double behind_first_m = 0;
  };
  std::string contact_line;  ///< name of its type
  EnergySupply supply{};
  std::vector<Raised> raised;  ///< front first; at least one
  double to_kmh = 0;           ///< what every other rule permits
  std::optional<double> temperature_c;
  /// The speed where it is known already: then it is asked what that hangs on, and nothing else.
  std::optional<PermittedSpeed> settled = {};
};

/// The permitted speed, or why it is not known.
struct MechanicsAnswer {
  std::optional<PermittedSpeed> speed;
  std::string unknown;                  ///< one clause; empty where the speed is known
  std::vector<std::string> not_judged;  ///< what was not asked of it, one sentence each
  std::vector<std::string> warnings;    ///< what to doubt of the speed, whole sentences
};

/// Answers many questions at once, in their order; nothing where it was stopped.
using MechanicsSource = std::function<std::optional<std::vector<MechanicsAnswer>>(
    const std::vector<MechanicsQuestion>&)>;

/// What the mechanics says of the configurations that a plan looks at, found as they are needed.
///
/// To compute a speed takes long, so only those are computed that a plan hands out. A configuration
/// that the mechanics was not asked about yet is taken to run as fast as all other rules permit.
/// The plan is made, the speeds it hands out are asked for, and it is made again, until it hands
/// out none that is not known. That last plan is the best: whatever is not in it was valued too
/// high, if anything, and still lost.
class MechanicsSpeeds : public ComputedSpeeds {
 public:
  MechanicsSpeeds(SpeedFrom from, std::optional<double> temperature_c, Words words = {});

  const ComputedSpeed* speed_of(const JudgedCase& judged, double to_kmh, bool wanted) override;
  bool stands_in_for_spacing(const JudgedCase& judged) const override;

  /// The questions that came up since the last call, in a settled order. When no speed is asked
  /// for any more, those what the speeds hang on that were handed out since.
  std::vector<MechanicsQuestion> take_questions();
  /// The answers to them, in the same order.
  void learn(const std::vector<MechanicsQuestion>& questions, std::vector<MechanicsAnswer> answers);

  /// Of a configuration on a section: the forces of the fastest run that passes, no faster than
  /// `to_kmh` if there is such a one.
  std::optional<ForceFigures> forces_of(const RunningTrain& train, const LineProperties& section,
                                        PantographSet raised, double to_kmh);

  /// What was not known or not judged, one sentence each.
  std::vector<std::string> notes() const;

 private:
  struct Known {
    MechanicsQuestion question;
    MechanicsAnswer answer;
    ComputedSpeed said;
    bool handed_out = false;      ///< its forces are in the plan made last
    bool asked_for_more = false;  ///< what it hangs on
  };

  SpeedFrom from_;
  std::optional<double> temperature_c_;
  Words words_;
  std::map<std::string, Known> known_;
  std::map<std::string, std::string> unknown_;  ///< why, by all of a question but its speed
  std::mutex asking_;
  std::map<std::string, MechanicsQuestion> asked_;
};

}  // namespace panup
