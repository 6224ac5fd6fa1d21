#pragma once
/// What the kinds of rule do, one function a kind or family of kinds. `judging_table.cpp` says
/// which.

#include <string>

#include "judging/judge.h"
#include "judging/judged_case.h"
#include "judging/opinion.h"

namespace panup {

/// Whether the section admits the pantograph type: head, strips, dropping device, height.
/// What the section does not state, it does not admit.
bool admits(const LineProperties& section, const PantographType& type);

/// Whether the pantograph follows the wire down to its height there.
bool follows(const PantographType& type, const LowPlace& place);

void judge_fit(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_width_alone(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// The temperature that is stated of the day or of the section, against the range of the section
/// under the front of the train. That nobody states one is said; of a section without a range
/// nothing is.
void judge_temperature(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_current_limitation(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_separation_document(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_defective(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_order(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_dead_in_tow(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// Vehicles that work but have nothing up: also asked where the rule is off, and then forbids.
void judge_put_dead(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

void judge_raised_record(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_design_spacing(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// What these two say of so many pantographs, the closest two `distance_m` apart; other kinds say
/// nothing.
void judge_number_and_distance(const Rule& rule, const JudgedCase& judged, std::size_t number,
                               double distance_m, Opinion& opinion);
void judge_distance(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

void judge_facing_pair(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_contact_points(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_load_protection(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_prescribed_position(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_windscreen(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_fewest_raised(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

void judge_restriction(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// A greatest speed that the operator sets.
void judge_speed_restriction(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_highest_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// The mean contact force of each raised pantograph, static force + k v² (EN 50367, from memory),
/// against what its section permits at the greatest speed there: it lowers the speed to that at
/// which the force is permitted, or rules the pantograph out where there is none. What is not known
/// of it is said.
void judge_contact_force(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_lowered_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// Where wagons lead, nobody looks ahead from a cab.
void judge_propelling(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// Asked after all others, for it looks at what they said of the speed.
void judge_computed_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

/// Demand against what the raised pantographs of each vehicle carry. A demand that the train file
/// states has to be carried: a configuration that does not is forbidden. One that is computed from
/// the power of the vehicle is the greatest that can be asked for: what a configuration does not
/// carry of it counts (`Verdict::missing_current_a`), and the finding says what power may be drawn,
/// and whether one more pantograph helps.
void judge_current_per_pantograph(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// The train's sum against the section's greatest train current: only said.
void judge_train_current(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
/// Says of every vehicle with several pantographs up what that does to the wear of its strips,
/// against the foremost of them alone at the same speed. Forces are the static ones of the types,
/// the current is shared evenly. Decides nothing.
void judge_strip_wear(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

/// Separation sections passed with pantographs up: by their zones; by their length; and what hangs
/// on something that nobody states, whichever of the two asks for it.
void judge_zones_joined(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_separation_length(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_separation_unknown(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

/// Where the wind puts the contact wire on the heads of the raised pantographs, on sections that
/// state their spans: a wind beyond what a span holds is forbidden, else the margin is a note.
/// Without a wind of the day, the design wind of the rule counts; without that too, only what does
/// not hold in the calm is ruled out.
void judge_lateral_position(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

/// What a rule of kind `prescribed_position` is about.
struct PositionRule {
  enum class Place : std::uint8_t { none, ahead_of_load, last, not_last };
  Place place{};       ///< of the vehicle
  bool front = false;  ///< the foremost pantograph; else the rearmost
};

PositionRule position_rule(const Rule& rule);
/// Whether such a rule speaks of a vehicle in this role.
bool speaks_of(const PositionRule& rule, const VehicleRole& role);
/// The pantograph that such a rule wants up on the vehicle: its foremost or rearmost one that is
/// for the system and admitted by the section. Empty if none is. An order of the train file is not
/// in it.
PantographSet prescribed_on(const PositionRule& rule, const JudgedCase& judged,
                            const RunningVehicle& vehicle);

/// Consent is needed, unless the train file names one for the rule here: then that is said.
template <typename Text>
void ask_consent(const Rule& rule, const JudgedCase& judged, Opinion& opinion, const Text& text) {
  if (const Consent* const consent = consent_for(judged.consents, rule.id)) {
    opinion.say(rule, Strength::note, [&] {
      FindingWords said(text());
      said.text += consent_words(*consent, judged.words());
      return said;
    });
    if (opinion.explains()) {
      opinion.findings->back().rests_on = {consent->reference, consent->given_by};
    }
    return;
  }
  opinion.verdict.consent_needed = true;
  opinion.say(rule, Strength::consent_needed, text);
}

}  // namespace panup
