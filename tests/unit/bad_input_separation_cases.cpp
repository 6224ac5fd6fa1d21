#include <stdexcept>

#include "bad_input_cases.h"
#include "input_texts.h"
#include "separation_texts.h"

namespace panup {

namespace {

BadInput in_phase(const char* name, const std::string& change, const std::string& into,
                  const std::string& text) {
  return {name, FileKind::route, "[[lowered]]",
          replaced(right_phase_separation, change, into) + "[[lowered]]", text};
}

BadInput in_system(const char* name, const std::string& change, const std::string& into,
                   const std::string& text, const std::string& at = "") {
  return {name,
          FileKind::route,
          "length_is = \"minimum between inner strips\"\n",
          replaced(right_system_zones, change, into),
          text,
          at};
}

}  // namespace

std::vector<BadInput> bad_separation_cases() {
  return {
      in_phase("ZoneOfUnknownKind", "kind = \"earthed\"", "kind = @\"erthed\"",
               "...'kind' is \"erthed\"; did you mean \"earthed\"?"),
      in_phase("ZonesLeaveAGap", "from_m = 61", "from_m = @61.5",
               "zone 4 begins at 61.5 m, after where zone 3 ends, at 61 m; what lies between is a "
               "zone too: neutral, earthed or an insulator"),
      in_phase("AnInsulatorOverlaps", "from_m = 60\n", "from_m = @59\n",
               "an insulator does not overlap: zone 3 begins at 59 m, zone 2 ends at 60 m"),
      in_phase("TwoInsulators", "kind = \"earthed\"\nfrom_m = 61\nto_m = 103",
               "kind = @\"insulator\"\nfrom_m = 61\nto_m = 101",
               "two insulators follow each other: make one of them"),
      in_phase(
          "OverlapLongerThanTheZoneBefore", "from_m = 101", "from_m = @60.5",
          "the overlap is longer than zone 4: zone 5 begins at 60.5 m, not behind where zone 4 "
          "begins, at 61 m"),
      in_phase("OverlapLongerThanTheZone",
               "kind = \"insulator\"\nfrom_m = 60\nto_m = 61\n[[separation.zone]]\nkind = "
               "\"earthed\"\nfrom_m = 61\n",
               "kind = \"neutral\"\nfrom_m = 50\nto_m = @60\n[[separation.zone]]\nkind = "
               "\"earthed\"\nfrom_m = 60\n",
               "the overlap is longer than zone 3: it ends at 60 m, not behind where zone 2 ends, "
               "at 60 m"),
      in_phase(
          "ThreeWiresSideBySide",
          "kind = \"insulator\"\nfrom_m = 60\nto_m = 61\n[[separation.zone]]\nkind = "
          "\"earthed\"\nfrom_m = 61\n",
          "kind = \"neutral\"\nfrom_m = 58\nto_m = 70\n[[separation.zone]]\nkind = "
          "\"earthed\"\nfrom_m = @59.5\n",
          "overlaps longer than the zone between: zone 4 begins at 59.5 m, before zone 2 ends, "
          "at 60 m"),
      in_phase("ZoneEndsBeforeItBegins", "from_m = 61\nto_m = 103", "from_m = 61\nto_m = @16",
               "the zone ends at 16 m, before it begins, at 61 m"),
      in_phase("ZoneOfNoLength", "from_m = 61\nto_m = 103", "from_m = 61\nto_m = @61",
               "the zone ends at 61 m, where it begins"),
      in_phase("FirstZoneWithABeginning", "phase = \"R\"\n", "phase = \"R\"\nfrom_m = @-50\n",
               "the first zone reaches beyond the section: leave out 'from_m'"),
      in_phase("LastZoneWithAnEnd", "from_m = 101\n", "from_m = 101\nto_m = @200\n",
               "the last zone reaches beyond the section: leave out 'to_m'"),
      in_phase("FirstZoneNotLive", "kind = \"live\"\nphase = \"R\"", "kind = @\"neutral\"",
               "the first zone is the live wire before the section: 'kind = \"live\"'"),
      in_phase("LastZoneNotLive", "kind = \"live\"\nphase = \"S\"", "kind = @\"earthed\"",
               "the last zone is the live wire behind the section: 'kind = \"live\"'"),
      in_phase("LiveZoneWithoutPhase", "[[separation.zone]]\nkind = \"live\"\nphase = \"S\"",
               "@[[separation.zone]]\nkind = \"live\"", "key 'phase' is missing"),
      in_phase("SamePhaseOnBothSides", "phase = \"S\"", "phase = @\"R\"",
               "phase R is on both sides: the section would separate nothing"),
      in_phase("SystemInAPhaseSeparation", "phase = \"S\"",
               "phase = \"S\"\nsystem = @\"AC 25 kV 50 Hz\"",
               "a phase separation section separates phases: its live zones have a 'phase'"),
      in_phase("NeutralZoneWithAPhase", "kind = \"neutral\"\n",
               "kind = \"neutral\"\nphase = @\"R\"\n",
               "only a live zone has a phase; this one is neutral"),
      in_phase("MisspeltKeyOfAZone", "from_m = 61\n", "@form_m = 61\nfrom_m = 61\n",
               "unknown key 'form_m'; did you mean 'from_m'?"),
      in_phase("ZoneInKilometres", "to_m = 103", "to_m = @103000",
               "'to_m' is 103000; expected a value from -500 to 5500"),
      in_phase("LongerThanBetweenTheLiveZones", "length_m = 100", "length_m = @140",
               "the length and the zones disagree: 140 m between outer strips would reach over the "
               "101 m between the live zones"),
      in_phase("ShorterThanAllZones",
               "length_m = 100\npantograph_lowered = false\nbreaker_off = "
               "true\nlength_is = \"maximum between outer strips\"",
               "length_m = @100\npantograph_lowered = false\nbreaker_off = true\nlength_is = "
               "\"minimum between inner strips\"",
               "the length and the zones disagree: strips 100 m apart would both be within the "
               "zones between the live ones, 105 m over all"),
      in_phase("NeitherFreeNorOverallLength",
               "length_m = 100\npantograph_lowered = false\nbreaker_off = true\nlength_is = "
               "\"maximum between outer strips\"",
               "length_m = @90\npantograph_lowered = false\nbreaker_off = true",
               "the length and the zones disagree: 90 m is not between the 101 m from live zone to "
               "live zone and the 105 m over all zones between them"),
      in_system("PhaseInASystemSeparation", "system=\"DC 3 kV\"",
                "system=\"DC 3 kV\", phase = @\"R\"",
                "a system separation section separates systems: its live zones have a 'system'"),
      in_system("LiveZoneOfAnotherSystemThanTheRoute", "  { kind = \"live\", system=\"DC 3 kV\"",
                "  @{ kind = \"live\", system=\"DC 1.5 kV\"",
                "the live zone behind 'Border' is of DC 1.5 kV, the route at km 10.100001 of DC 3 "
                "kV"),
      in_system("ShorterThanTheNeutralZone", "to_m = 200", "to_m = 201",
                "the length and the zones disagree: strips 200 m apart would both be within the "
                "zones between the live ones, 201 m over all",
                "200\npantograph_lowered"),
      in_system("OneZoneOnly",
                "zone = [\n  { kind = \"live\", system=\"AC 15 kV 16.7 Hz\", to_m = 0 },\n  { kind "
                "= \"neutral\", from_m = 0, to_m = 200 },\n",
                "zone = @[\n",
                "1 zone; a separation section has from 2 to 32, a live one at either end"),
  };
}

}  // namespace panup
