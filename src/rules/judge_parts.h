#pragma once
/// What the kinds of rule do, one function a kind or family of kinds. Used by `Judge` alone.

#include <string>

#include "rules/judge.h"

namespace panup {

/// Whether the section admits the pantograph type: head, strips, dropping device, height.
/// What the section does not state, it does not admit.
bool admits(const LineProperties& section, const PantographType& type);

/// Whether the pantograph follows the wire down to its height there.
bool follows(const PantographType& type, const LowPlace& place);

void judge_fit(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_defective(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_order(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_dead_in_tow(const Rule& rule, const JudgedCase& judged, Opinion& opinion);

void judge_raised_record(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_design_spacing(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_distance(const JudgedCase& judged, Opinion& opinion);

void judge_facing_pair(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_contact_points(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_load_protection(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_prescribed_position(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_windscreen(const JudgedCase& judged, Opinion& opinion);

void judge_restriction(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_highest_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion);
void judge_lowered_speed(const Rule& rule, Opinion& opinion);

/// Whether a rule of kind `prescribed_position` speaks of a vehicle in this role.
bool speaks_of(const Rule& rule, const VehicleRole& role);
/// The pantograph that such a rule wants up on the vehicle: its foremost or rearmost one that is
/// for the system and admitted by the section. Empty if none is.
PantographSet prescribed_on(const Rule& rule, const JudgedCase& judged,
                            const RunningVehicle& vehicle);

/// Why the vehicle has nothing up, and what that costs.
std::string put_dead_text(const JudgedCase& judged, const RunningVehicle& vehicle);

}  // namespace panup
