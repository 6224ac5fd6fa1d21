#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_conditions_cases() {
  constexpr FileKind kind = FileKind::conditions;
  return {
      {"IceOnAnUnknownSection", kind, "section = \"a2\"", "section = @\"a22\"",
       "route 'west-east' has no section 'a22'; did you mean 'a2'?"},
      {"IceOnAStrangeSection", kind, "section = \"a2\"", "section = @\"moor\"",
       "route 'west-east' has no section 'moor'"},
      {"IceEndsBeforeItBegins", kind, "to_km = 7", "to_km = @3",
       "the ice ends at km 3, before it begins at km 4"},
      {"IceWithoutEnd", kind, "{ from_km = 4, to_km = 7 }", "@{ from_km = 4 }",
       "key 'to_km' is missing"},
      {"IceBothWays", kind, "{ section = \"a2\" }", "@{ section = \"a2\", from_km = 1, to_km = 2 }",
       "an entry of 'ice' is either a section or a stretch from km to km, not both"},
      {"IceSomewhere", kind, "ice = [\n  { from_km = 4, to_km = 7 },\n  { section = \"a2\" },\n]",
       "ice = @\"somewhere\"", "...'ice' is \"somewhere\""},
      {"IceAsFlag", kind, "ice = [\n  { from_km = 4, to_km = 7 },\n  { section = \"a2\" },\n]",
       "ice = @true",
       "'ice' is true; expected \"everywhere\", or a list of stretches as in [{ from_km = 40, "
       "to_km = "
       "71.5 }]; where there is no ice, leave 'ice' out"},
      {"TemperatureInFahrenheit", kind, "temperature_c = -6", "@temperature_f = 21",
       "unknown unit 'f' in key 'temperature_f'; it would be 'temperature_c'"},
      {"TemperatureOfNoDay", kind, "temperature_c = -6", "temperature_c = @-273",
       "'temperature_c' is -273; expected a value from -60 to 60"},
      {"WindBlowingBackwards", kind, "wind_ms = 4", "wind_ms = @-4",
       "'wind_ms' is -4; expected a value from 0 to 80"},
      {"NameMissing", kind, "name = \"Iced morning\"\n", "", "key 'name' is missing"},
      {"KindMisspelt", kind, "kind = \"conditions\"", "kind = @\"condition\"",
       "...'kind' is \"condition\"; did you mean \"conditions\"?"},
      {"KindMissing", kind, "kind = \"conditions\"\n", "",
       "...key 'kind' is missing; it is one of \"stock\""},
      {"KindAsNumber", kind, "kind = \"conditions\"", "kind = @4",
       "'kind' is a whole number; expected text in quotes"},
  };
}

std::vector<BadInput> bad_rule_book_cases() {
  constexpr FileKind kind = FileKind::rule_book;
  return {
      {"AlwaysOnTurnedOff", kind, "reason = \"As the operator says it.\"", "on = @false",
       "a rule of kind 'pantograph-supply' cannot be turned off"},
      {"KindChanged", kind, "speed_kmh = 60", "kind = @\"facing-pair\"",
       "rule 'ice-speed' is of kind 'ice-speed' in practice; a later book cannot change that"},
      {"UnknownKind", kind, "kind = \"load-protection\"", "kind = @\"load-protecton\"",
       "there is no kind of rule 'load-protecton'; did you mean 'load-protection'?"},
      {"NewRuleWithoutKind", kind, "kind = \"load-protection\"\n", "", "key 'kind' is missing",
       "[[rule]]\nid = \"own-load-rule\""},
      {"NewRuleWithoutSource", kind, "source = \"invented\"\n", "", "key 'source' is missing",
       "[[rule]]\nid = \"own-load-rule\""},
      {"NewRuleWithoutParameter", kind, "natures = [\"sensitive\"]\n", "",
       "key 'natures' is missing", "[[rule]]\nid = \"own-load-rule\""},
      {"UnknownParameter", kind, "speed_kmh = 60", "speed_kmh = 60\n@reach_m = 60",
       "unknown key 'reach_m'"},
      {"SpeedInMiles", kind, "speed_kmh = 60", "@speed_mph = 40",
       "unknown unit 'mph' in key 'speed_mph'; it would be 'speed_kmh'"},
      {"IceSpeedOfZero", kind, "speed_kmh = 60", "speed_kmh = @0",
       "'speed_kmh' is 0; expected a value from 5 to 400"},
      {"UnknownNature", kind, "natures = [\"sensitive\"]",
       "natures = [\"dangerous\", @\"fragile\"]",
       "'natures' is \"fragile\"; expected \"dangerous\" or \"sensitive\""},
      {"UnknownStrength", kind, "strength = \"prescribed\"", "strength = @\"forbiden\"",
       "...'strength' is \"forbiden\"; did you mean \"forbidden\"?"},
      {"UnknownStanding", kind, "standing = \"operator\"", "standing = @\"hearsay\"",
       "'standing' is \"hearsay\"; expected \"practice\", \"derived\", \"published\" or "
       "\"operator\""},
      {"ForbiddenWhatOnlyWarns", kind, "id = \"supply-fit\"\n",
       "id = \"coasting\"\nstrength = @\"forbidden\"\n",
       "a rule of kind 'coasting' has the strength \"consent needed\", \"last resort\" or "
       "\"note\""},
      {"ANoteWhereTheTrainStops", kind, "id = \"supply-fit\"\n",
       "id = \"leave-on-the-move\"\nstrength = @\"note\"\n",
       "a rule of kind 'leave-on-the-move' has the strength \"last resort\""},
      {"SameRuleTwice", kind, "id = \"supply-fit\"", "id = @\"ice-speed\"",
       "id 'ice-speed' is used already, at f.toml:4:1"},
      {"RuleWithoutId", kind, "id = \"supply-fit\"\n", "", "key 'id' is missing",
       "[[rule]]\nreason = \"As"},
      {"SpacingOfZero", kind, "ac_m = [8, 8, 8]", "ac_m = [8, 8, @0]",
       "'ac_m' is 0; expected a value above 0, up to 1000"},
      {"SpacingForTwoTypes", kind, "ac_m = [8, 8, 8]", "ac_m = @[8, 8]",
       "'ac_m' holds 2 distances; expected three, for design types A, B and C"},
      {"SpacingNotRising", kind, "up_to_kmh = 120", "up_to_kmh = @80",
       "rows stand by rising speed"},
      {"SpacingLastRowBounded", kind, "{ ac_m = [200", "{ up_to_kmh = @250, ac_m = [200",
       "the last row holds for all higher speeds and has no 'up_to_kmh'"},
      {"SpacingRowUnbounded", kind, "{ up_to_kmh = 80, ac_m", "@{ ac_m",
       "key 'up_to_kmh' is missing"},
      {"SpacingSystemMissing", kind, " dc_3kv_m = [9, 9, 9],", "", "key 'dc_3kv_m' is missing",
       "{ up_to_kmh = 80"},
      {"SpacingAsText", kind, "dc_3kv_m = [9, 9, 9]", "dc_3kv_m = [9, 9, @\"9\"]",
       "'dc_3kv_m' is text; expected a number, without quotes"},
      {"AKindThatCannotBeLimited", kind, "natures = [\"sensitive\"]",
       "natures = [\"sensitive\"]\nonly_for = @{ lines = [\"7\"] }",
       "...a rule of kind 'load-protection' holds wherever the train runs; 'only_for' is for rules "
       "of "
       "the kinds \"facing-pair\", \"contact-points\""},
      {"WhatIsAlwaysOnLimited", kind, "reason = \"As the operator says it.\"",
       "only_for = @{ lines = [\"7\"] }", "...a rule of kind 'pantograph-supply' holds wherever"},
      {"LimitedToNoLine", kind, "speed_kmh = 60", "speed_kmh = 60\nonly_for = { lines = @[] }",
       "'lines' is empty; leave it out where it limits nothing"},
      {"LimitedToTheNumberOfALine", kind, "speed_kmh = 60",
       "speed_kmh = 60\nonly_for = { lines = [@7] }",
       "'lines' is a whole number; expected text in quotes"},
      {"LimitedToAStrangeLoad", kind, "speed_kmh = 60",
       "speed_kmh = 60\nonly_for = { loads = [@\"fragile\"] }",
       "'loads' is \"fragile\"; expected \"ordinary\", \"dangerous\" or \"sensitive\""},
      {"LimitedByAMisspeltKey", kind, "speed_kmh = 60",
       "speed_kmh = 60\nonly_for = { lines = [\"7\"], @clases = [\"k41\"] }",
       "unknown key 'clases'; did you mean 'classes'?"},
      {"LimitedByText", kind, "speed_kmh = 60", "speed_kmh = 60\nonly_for = @\"line 7\"",
       "...'only_for' is text"},
      {"NewRuleLimitedToNothing", kind,
       "kind = \"load-protection\"\nstatement = \"New cars are protected.\"\n"
       "reason = \"Carbon dust.\"\nsource = \"invented\"\nstanding = \"operator\"\n"
       "strength = \"prescribed\"\nnatures = [\"sensitive\"]\nreach_m = 200",
       "kind = \"speed-restriction\"\nstatement = \"Snow.\"\nreason = \"Snow.\"\n"
       "source = \"invented\"\nstanding = \"operator\"\nstrength = \"speed limit\"\n"
       "speed_kmh = 80\nonly_for = @{}",
       "'only_for' limits nothing; state sections, lines, classes or loads, or leave it out"},
      {"RestrictionWithoutSpeed", kind,
       "kind = \"load-protection\"\nstatement = \"New cars are protected.\"\n"
       "reason = \"Carbon dust.\"\nsource = \"invented\"\nstanding = \"operator\"\n"
       "strength = \"prescribed\"\nnatures = [\"sensitive\"]\nreach_m = 200",
       "kind = \"speed-restriction\"\nstatement = \"Snow.\"\nreason = \"Snow.\"\n"
       "source = \"invented\"\nstanding = \"operator\"\nstrength = \"speed limit\"",
       "key 'speed_kmh' is missing", "[[rule]]\nid = \"own-load-rule\""},
      {"NoRules", kind, "[[rule]]\nid = \"ice-speed\"", "[[@rules]]\nid = \"ice-speed\"",
       "unknown key 'rules'; did you mean 'rule'?"},
  };
}

}  // namespace panup
