#include "bad_input_cases.h"

namespace panup {

namespace {

std::vector<BadInput> bad_wire_cases() {
  constexpr FileKind kind = FileKind::contact_line;
  return {
      {"IdWithSpace", kind, "id = \"nv-1\"", "id = @\"nv 1\"", "...an id is made of letters"},
      {"IdMissing", kind, "id = \"nv-1\"\n", "", "key 'id' is missing"},
      {"TerminationMissing", kind, "termination = \"fixed\"\n", "", "key 'termination' is missing"},
      {"TerminationMisspelt", kind, "termination = \"fixed\"\nreference_temperature_c = 12",
       "termination = @\"fixd\"",
       "'termination' is \"fixd\"; did you mean \"fixed\"? It is one of \"auto-tensioned\" or "
       "\"fixed\""},
      {"FixedWithoutTemperature", kind, "reference_temperature_c = 12\n", "",
       "key 'reference_temperature_c' is missing"},
      {"TemperatureOfNoDay", kind, "reference_temperature_c = 12", "reference_temperature_c = @120",
       "'reference_temperature_c' is 120; expected a value from -40 to 60"},
      {"DampingBelowZero", kind, "mass_damping_per_s = 0.02", "mass_damping_per_s = @-0.02",
       "'mass_damping_per_s' is -0.02; expected a value from 0 to 10"},
      {"DampingTooGreat", kind, "stiffness_damping_s = 0.0001", "stiffness_damping_s = @1",
       "'stiffness_damping_s' is 1; expected a value from 0 to 0.1"},
      {"DampingMisspelt", kind, "stiffness_damping_s", "@stifness_damping_s",
       "unknown key 'stifness_damping_s'; did you mean 'stiffness_damping_s'?"},
      {"UpliftSpaceInMetres", kind, "uplift_space_mm = 180", "uplift_space_mm = @0.18",
       "'uplift_space_mm' is 0.18; expected a value from 20 to 1000"},
      {"UpliftSpaceTooGreat", kind, "uplift_space_mm = 180", "uplift_space_mm = @1001",
       "'uplift_space_mm' is 1001; expected a value from 20 to 1000"},
      {"UpliftSpaceAsText", kind, "uplift_space_mm = 180", "uplift_space_mm = @\"180 mm\"",
       "'uplift_space_mm' is text; expected a number, without quotes"},
      {"UpliftSpaceUnit", kind, "uplift_space_mm = 180", "@uplift_space_m = 0.18",
       "unknown unit 'm' in key 'uplift_space_m'; it would be 'uplift_space_mm'"},
      {"UpliftLimitAsNumber", kind, "uplift_limited_by_design = true",
       "uplift_limited_by_design = @1",
       "'uplift_limited_by_design' is a whole number; expected true or false"},
      {"UpliftLimitMisspelt", kind, "uplift_limited_by_design", "@uplift_limited_by_desing",
       "unknown key 'uplift_limited_by_desing'; did you mean 'uplift_limited_by_design'?"},
      {"ThreeContactWires", kind, "number = 2", "number = @3",
       "'number' is 3; expected a value from 1 to 2"},
      {"ContactWiresAsReal", kind, "number = 2", "number = @2.0",
       "...'number' is a number; expected a whole number"},
      {"TensionNotANumber", kind, "tension_n = 10000", "tension_n = @nan",
       "'tension_n' is nan; expected a value from 500 to 60000"},
      {"TensionInfinite", kind, "tension_n = 10000", "tension_n = @inf",
       "'tension_n' is inf; expected a value from 500 to 60000"},
      {"TensionInKilonewtons", kind, "tension_n = 10000", "tension_n = @10",
       "'tension_n' is 10; expected a value from 500 to 60000"},
      {"TensionAsText", kind, "tension_n = 15000", "tension_n = @\"15 kN\"",
       "'tension_n' is text; expected a number, without quotes"},
      {"TensionMissing", kind, "tension_n = 15000\n", "", "key 'tension_n' is missing",
       "[wire.messenger]"},
      {"MassOfNothing", kind, "mass_kg_per_m = 0.95", "mass_kg_per_m = @0",
       "'mass_kg_per_m' is 0; expected a value from 0.05 to 5"},
      {"BendingBelowZero", kind, "bending_stiffness_nm2 = 120", "bending_stiffness_nm2 = @-1",
       "'bending_stiffness_nm2' is -1; expected a value from 0 to 2000"},
      {"BendingWithoutUnit", kind, "bending_stiffness_nm2 = 120", "@bending_stiffness = 120",
       "unknown key 'bending_stiffness'; did you mean 'bending_stiffness_nm2'?"},
      {"AxialTooSoft", kind, "axial_stiffness_n = 11000000", "axial_stiffness_n = @1100",
       "'axial_stiffness_n' is 1100; expected a value from 100000 to 1e+09"},
      {"ExpansionPerHundred", kind, "thermal_expansion_per_k = 0.000017\ndiameter",
       "thermal_expansion_per_k = @0.0017\ndiameter",
       "'thermal_expansion_per_k' is 0.0017; expected a value from 1e-06 to 0.0001"},
      {"ExpansionMissing", kind,
       "axial_stiffness_n = 9000000\nthermal_expansion_per_k = 0.000017\n",
       "axial_stiffness_n = 9000000\n",
       "key 'thermal_expansion_per_k' is missing: 'axial_stiffness_n' and "
       "'thermal_expansion_per_k' are given together or not at all",
       "[wire.messenger]"},
      {"DiameterInMetres", kind, "diameter_mm = 12", "diameter_mm = @0.012",
       "'diameter_mm' is 0.012; expected a value from 1 to 50"},
      {"DiameterUnit", kind, "diameter_mm = 12", "@diameter_in = 0.47",
       "unknown unit 'in' in key 'diameter_in'; it would be 'diameter_mm'"},
      {"WireMisspelt", kind, "[wire.stitch]\ntension_n = 2500\nmass_kg_per_m = 0.25",
       "[wire.stitch]\ntension_n = 2500\nmass_kg_per_m = 0.25\n@[wire.stich]",
       "there is no wire 'stich'; did you mean 'stitch'?"},
      {"MessengerMissing", kind,
       "[wire.messenger]\ntension_n = 15000\nmass_kg_per_m = 0.8\naxial_stiffness_n = 9000000\n"
       "thermal_expansion_per_k = 0.000017\n",
       "", "table [wire.messenger] is missing"},
      {"StitchWireNotDescribed", kind, "[wire.stitch]\ntension_n = 2500\nmass_kg_per_m = 0.25\n",
       "", "table [wire.stitch], which says what wire that is, is missing",
       "12\n\n[droppers.even]"},
      {"StitchWireOfNoUse", kind, "stitch_wire_length_m = 12", "stitch_wire_length_m = 0",
       "no support has a stitch wire: none states 'stitch_wire_length_m' above 0", "[wire.stitch]"},
      {"WireAsNumber", kind, "[wire.stitch]\ntension_n = 2500\nmass_kg_per_m = 0.25\n",
       "[wire.stitch]\ntension_n = 2500\nmass_kg_per_m = 0.25\n[wire]\n@spare = 12\n",
       "...'wire.spare' is a whole number; expected a table"},
  };
}

std::vector<BadInput> bad_support_cases() {
  constexpr FileKind kind = FileKind::contact_line;
  return {
      {"EncumbranceMissing", kind, "encumbrance_m = 1.4\n", "", "key 'encumbrance_m' is missing",
       "[support.plain]"},
      {"EncumbranceBelowZero", kind, "encumbrance_m = 1.4", "encumbrance_m = @-1.4",
       "'encumbrance_m' is -1.4; expected a value from 0.1 to 5"},
      {"SupportTooSoft", kind, "messenger_stiffness_n_per_m = 400000",
       "messenger_stiffness_n_per_m = @0",
       "'messenger_stiffness_n_per_m' is 0; expected a value from 1000 to 1e+08"},
      {"SteadyArmTooHeavy", kind, "steady_arm_mass_kg = 1.5", "steady_arm_mass_kg = @150",
       "'steady_arm_mass_kg' is 150; expected a value from 0 to 50"},
      {"SteadyArmMisspelt", kind, "steady_arm_mass_kg", "@stedy_arm_mass_kg",
       "unknown key 'stedy_arm_mass_kg'; did you mean 'steady_arm_mass_kg'?"},
      {"LikeNoSupport", kind, "like = \"plain\"", "like = @\"plane\"",
       "there is no [support.NAME] called 'plane'; did you mean 'plain'?"},
      {"LikeItself", kind, "like = \"plain\"", "like = @\"stitched\"",
       "'stitched' is itself like another; name one that is not"},
      {"StitchWireTooLong", kind, "stitch_wire_length_m = 12", "stitch_wire_length_m = @90",
       "'stitch_wire_length_m' is 90; expected a value from 0 to 60"},
      {"StitchWiresOverlap", kind, "stitch_wire_length_m = 12", "stitch_wire_length_m = 48.4",
       "stitch wires reach 24.2 m and 24.2 m into this span of 48 m; between their ends 0.5 m of "
       "messenger wire are needed",
       "[[span]]\nrepeat = 3"},
      {"DropperAtStitchClamp", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 15, 22.5, 34.2]",
       "the dropper at 34.2 m is less than 0.5 m from the end of a stitch wire, at 34 m",
       "\"listed\""},
  };
}

std::vector<BadInput> bad_dropper_cases() {
  constexpr FileKind kind = FileKind::contact_line;
  return {
      {"DroppersOutOfOrder", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 22.5, @15, 32.5]",
       "droppers stand in order from the span's first support; this one, at 15 m, comes after one "
       "at 22.5 m"},
      {"DroppersAtOnePlace", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 15, @15, 32.5]",
       "two droppers stand at one place, 15 m from the support"},
      {"DroppersTooNear", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 15, @15.3, 32.5]",
       "it stands 0.3 m from the one before; at least 0.5 m is needed"},
      {"DropperAtSupport", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [@0, 15, 22.5, 32.5]",
       "'at_m' is 0; expected a value from 0.5 to 119.5"},
      {"DropperNotANumber", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, @nan, 22.5, 32.5]",
       "'at_m' is nan; expected a value from 0.5 to 119.5"},
      {"DropperBeyondSpan", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 15, 22.5, 41]",
       "the dropper at 41 m does not fit into a span of 40 m: it stands at least 0.5 m from either "
       "support",
       "\"listed\""},
      {"DropperAtSpanEnd", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = [7.5, 15, 22.5, 39.8]",
       "...the dropper at 39.8 m does not fit into a span of 40 m", "\"listed\""},
      {"DroppersAsText", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = @\"7.5, 15\"",
       "'at_m' is text; expected a list of numbers in [ ]"},
      {"DroppersEmpty", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = @[]",
       "'at_m' is empty; a span without droppers says droppers = \"none\""},
      {"DroppersBothWays", kind, "at_m = [7.5, 15, 22.5, 32.5]", "at_m = @[7.5, 15]\nnumber = 4",
       "droppers stand either at places, 'at_m', or by 'number' and 'first_m'"},
      {"DroppersNowhere", kind, "like = \"even\"\nat_m = [7.5, 15, 22.5, 32.5]",
       "mass_on_messenger_kg = 0.1",
       "it is not said where the droppers stand: 'at_m' lists their places, 'number' and 'first_m' "
       "spread them evenly",
       "[droppers.listed]"},
      {"OneDropperByNumber", kind, "number = 6", "number = @1",
       "'number' is 1; expected a value from 2 to 100"},
      {"FirstDropperMissing", kind, "first_m = 4\n", "", "key 'first_m' is missing",
       "[droppers.even]"},
      {"TooManyForTheSpan", kind, "number = 6", "number = 100",
       "100 droppers, the first 4 m from the support, do not fit into a span of 48 m: at least "
       "0.5 m is needed from one to the next",
       "\"even\"\n\n[[span]]\nlength_m = 6"},
      {"DropperTooSoft", kind, "stiffness_n_per_m = 90000", "stiffness_n_per_m = @9",
       "'stiffness_n_per_m' is 9; expected a value from 1000 to 1e+07"},
      {"ClampTooHeavy", kind, "mass_on_contact_wire_kg = 0.2", "mass_on_contact_wire_kg = @20",
       "'mass_on_contact_wire_kg' is 20; expected a value from 0 to 10"},
      {"LikeNoDroppers", kind, "like = \"even\"", "like = @\"evn\"",
       "there is no [droppers.NAME] called 'evn'; did you mean 'even'?"},
  };
}

std::vector<BadInput> bad_span_cases() {
  constexpr FileKind kind = FileKind::contact_line;
  return {
      {"SpanTooShort", kind, "length_m = 6\n", "length_m = @4.9\n",
       "'length_m' is 4.9; expected a value from 5 to 120"},
      {"SpanTooLong", kind, "length_m = 48", "length_m = @121",
       "'length_m' is 121; expected a value from 5 to 120"},
      {"SpanWithoutLength", kind, "length_m = 48\n", "", "key 'length_m' is missing",
       "[[span]]\nrepeat = 3"},
      {"TooManySpans", kind, "repeat = 3", "repeat = 499",
       "with these spans the line has 501; at most 500", "[[span]]\nlength_m = 6"},
      {"RepeatedNever", kind, "repeat = 3", "repeat = @0",
       "'repeat' is 0; expected a value from 1 to 500"},
      {"PreSagAsText", kind, "pre_sag_mm = 10", "pre_sag_mm = @\"10 mm\"",
       "'pre_sag_mm' is text; expected a number, without quotes"},
      {"PreSagUpwards", kind, "pre_sag_mm = 10", "pre_sag_mm = @-10",
       "'pre_sag_mm' is -10; expected a value from 0 to 200"},
      {"SupportNotNamed", kind, "support = \"stitched\"\n", "",
       "key 'support' is missing; it is one of \"plain\" or \"stitched\"", "[[span]]\nrepeat = 3"},
      {"SupportUnknown", kind, "support = \"stitched\"", "support = @\"stiched\"",
       "there is no [support.NAME] called 'stiched'; did you mean 'stitched'?"},
      {"DroppersNotNamed", kind, "droppers = \"even\"\n", "",
       "key 'droppers' is missing; it is one of \"even\" or \"listed\"", "[[span]]\nrepeat = 3"},
      {"DroppersUnknown", kind, "droppers = \"even\"", "droppers = @\"evenly\"",
       "there is no [droppers.NAME] called 'evenly'; did you mean 'even'?"},
      {"LastSupportUnknown", kind, "termination = \"fixed\"",
       "termination = \"fixed\"\nlast_support = @\"plan\"",
       "there is no [support.NAME] called 'plan'; did you mean 'plain'?"},
      {"SpanMisspelt", kind, "droppers = \"even\"", "droppers = \"even\"\n@presag_mm = 3",
       "unknown key 'presag_mm'; did you mean 'pre_sag_mm'?"},
  };
}

std::vector<BadInput> bad_hanging_cases() {
  constexpr FileKind kind = FileKind::contact_line;
  return {
      {"MessengerTooSlack", kind, "tension_n = 15000", "tension_n = @4000",
       "at 4000 N the messenger wire, with the contact wire on it, sags 1.91 m in a span of 48 m; "
       "that is more than the encumbrance of 1.4 m"},
      {"MessengerSagsBelowALowSupport", kind, "encumbrance_m = 1.4", "encumbrance_m = 0.4",
       "...sags 0.51 m in a span of 48 m; that is more than the encumbrance of 0.4 m",
       "15000\nmass_kg_per_m = 0.8"},
      {"ContactWireUnheld", kind, "pre_sag_mm = 10\nsupport = \"stitched\"\ndroppers = \"even\"",
       "pre_sag_mm = 0\nsupport = \"stitched\"\ndroppers = \"none\"",
       "at 10000 N the contact wire sags 2.89 m from dropper to dropper, 157.5 m apart, at "
       "32.5 m "
       "of the line; that is more than the encumbrance of 1.4 m",
       "10000\nmass_kg_per_m = 0.95"},
      {"PreSagNeedsPushing", kind, "length_m = 48\npre_sag_mm = 10",
       "length_m = 30\npre_sag_mm = @200", "...would have to push with"},
      {"PreSagHeldByNothing", kind, "pre_sag_mm = 10\nsupport = \"stitched\"\ndroppers = \"even\"",
       "pre_sag_mm = @10\nsupport = \"stitched\"\ndroppers = \"none\"",
       "this span has no droppers, and nothing holds the contact wire on a pre-sag of 10 mm; "
       "expected 0"},
      {"StitchWireTakesAllTension", kind, "tension_n = 2500", "tension_n = @15000",
       "the stitch wire's tension of 15000 N is no less than the messenger wire's, 15000 N; "
       "between the clamps none would be left for that"},
      {"NoRoomForADropper", kind, "encumbrance_m = 1.4", "encumbrance_m = 0.51",
       "...are left for the dropper"},
  };
}

}  // namespace

std::vector<BadInput> bad_contact_line_cases() {
  std::vector<BadInput> all;
  for (const auto& cases : {bad_wire_cases(), bad_support_cases(), bad_dropper_cases(),
                            bad_span_cases(), bad_hanging_cases()}) {
    all.insert(all.end(), cases.begin(), cases.end());
  }
  return all;
}

}  // namespace panup
