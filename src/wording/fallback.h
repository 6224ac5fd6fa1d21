#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.h"
#include "wording/wording.h"

namespace panup {

/// What is done without a failed pantograph, against what the plan has up there.
struct FallbackRow {
  std::vector<KmStretch> where;
  /// It holds only where the pantograph fails on the road on these very stretches. Otherwise it
  /// holds whenever the pantograph has failed, before departure, earlier on the road or here, but
  /// for what a row of this kind says of the same place.
  bool failing_here = false;
  Answer answer = Answer::permitted;
  std::vector<PantographRef> goes_up;    ///< up, and not so by the plan; front first
  std::vector<PantographRef> goes_down;  ///< up by the plan, and now down, the failed one included
  std::vector<int> put_dead_in_tow;
  std::string without_consent;       ///< where consent is needed: what needs none; may be empty
  bool speed_as_planned = false;     ///< the plan's own speeds hold
  double speed_kmh = 0;              ///< where as planned it may vary
  bool stranded = false;             ///< failing here, the train stands until help comes
  bool to_the_end = true;            ///< failing here, the train can go on to the end of the route
  double reaches_km = 0;             ///< failing here, how far it can go on
  std::vector<ExposedLoad> exposed;  ///< loads left unprotected by what is then up
};

/// The rows of all pantographs whose failure leads to the same.
struct Fallback {
  std::vector<PantographRef> failed;
  std::vector<FallbackRow> rows;  ///< where it differs from the plan; empty: nothing changes
};

/// The contingencies of a plan in the shortest form that says all: what is as planned is left out,
/// stretches with the same change are one row, pantographs with the same rows stand together.
/// Those that change nothing come last. Stretches passed with pantographs down are not mentioned.
std::vector<Fallback> fallbacks_of(const Plan& plan);

/// What is up without the failed pantograph, with the row of the card that says so.
struct FallbackUp {
  std::optional<std::size_t> row;  ///< into `Fallback::rows`; nothing: as the plan has it
  Answer answer = Answer::permitted;
  std::vector<PantographRef> raised;  ///< front first
  std::vector<int> put_dead_in_tow;
};

/// A stretch of the plan on which the card gives one answer for a failed pantograph.
struct FallbackPlace {
  double from_km = 0;
  double to_km = 0;
  std::string lowered_for;  ///< passed with pantographs down, which the card does not mention
  bool reversed = false;
  FallbackUp failed;                  ///< it has failed, before departure or on the road
  std::optional<FallbackUp> failing;  ///< it fails here, where that leads to something else
};

/// The card's answers from place to place, over the whole plan; neighbours differ. Empty where the
/// failure of the pantograph is not planned for, because it stays down anyway.
std::vector<FallbackPlace> fallback_places(const Plan& plan, PantographRef failed);

/// What is done: "raise 1.4 for 1.1", "raise 1.3 and 2.3 for 1.2 and 2.2", "nothing in its place",
/// "no permitted configuration", "the train stands until help comes"; with what goes dead in tow.
std::string remedy_words(const FallbackRow& row, const Words& words = {});

/// What binds the remedy: "only with consent of the infrastructure manager, without it: 2.1 up,
/// vehicle 1 dead in tow, 100 km/h", "as far as km 61.7,
/// no permitted configuration beyond", "the dangerous load (petrol) is exposed to dust and sparks
/// of 1.2"; empty if nothing does.
std::string limits_words(const FallbackRow& row, const Words& words = {});

/// "km 0.0–24.6", "failing in km 0.0–24.6".
std::string where_words(const FallbackRow& row, const Words& words = {});

/// Whether the train may run on with the failure.
bool may_run(const FallbackRow& row);

/// "80", "as planned", "–" where the train may not run.
std::string speed_words(const FallbackRow& row, const Words& words = {});

}  // namespace panup
