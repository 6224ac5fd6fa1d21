#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_network_cases() {
  constexpr FileKind kind = FileKind::network;
  return {
      {"NoName", kind, "name = \"Nordvale\"\n", "", "key 'name' is missing"},
      {"LineTwice", kind, "[[line]]\nid = \"3\"\n",
       "[[line]]\nid = \"3\"\n\n[[line]]\nid = @\"1\"\n", "id '1' is used already, at f.toml:7:6"},
      {"SectionOfNoLine", kind, "id = \"a2\"\nline = \"1\"\n", "id = \"a2\"\n",
       "section 'a2' does not say which line it belongs to; state its 'line'",
       "[[section]]\nid = \"a2\""},
      {"SectionOfALineThatIsNotThere", kind, "id = \"a2\"\nline = \"1\"\n",
       "id = \"a2\"\nline = \"11\"\n", "there is no line '11'; did you mean '1'?",
       "[[section]]\nid = \"a2\""},
      {"GapInALine", kind, "from_km = 30\nto_km = 40", "from_km = 31\nto_km = 40",
       "section 'a2' begins at km 31, after where 'a1' ends, at km 30", "[[section]]\nid = \"a2\""},
      {"StretchOfALineThatIsNotThere", kind, "[[lowered]]\nline = \"3\"",
       "[[lowered]]\nline = @\"4\"", "there is no line '4'"},
      {"StretchOfNoLine", kind, "[[low_place]]\nline = \"1\"\n", "[[low_place]]\n",
       "key 'line' is missing", "[[low_place]]"},
      {"StretchOutsideItsLine", kind, "from_km = 3\nto_km = 3.2", "from_km = 9\nto_km = 9.2",
       "'Works' lies from km 9 to 9.2, outside line '3', which runs from km 0 to 8", "[[lowered]]"},
      {"BoardWithoutDirection", kind,
       "at_km = 19.5\ndirection = \"rising\"\nboard = ", "at_km = 19.5\nboard = @",
       "a board of the line holds for one direction: state 'direction', \"rising\" or "
       "\"falling\", of the kilometres that its trains run by"},
      {"SignalWithoutDirection", kind, "direction = \"rising\"\nsignal = true", "signal = @true",
       "...a signal holds for one direction"},
      {"PlaceToChangeWithoutDirection", kind, "name = \"Orr tunnel\"",
       "name = \"Orr tunnel\"\nchange_on_the_move = @true",
       "...a place where pantographs may be changed holds for one direction"},
      {"DirectionUnknown", kind, "direction = \"falling\"", "direction = @\"up\"",
       "'direction' is \"up\"; expected \"rising\" or \"falling\""},
      {"BoardBehindForItsDirection", kind, "at_km = 20.6", "at_km = 19.9",
       "a board \"breaker off\" stands before what it is for: 'Orr phase separation' begins at km "
       "20.1 for trains that run by falling kilometres",
       "[[landmark]]\nline = \"1\"\nname = \"Orr board, other"},
      {"MarkOutsideItsLine", kind, "at_km = 28\ndirection = \"rising\"",
       "at_km = 48\ndirection = \"falling\"",
       "'Mosk home signal' at km 48 lies outside line '1', which runs from km 10 to 40",
       "[[landmark]]\nline = \"1\"\nname = \"Mosk home"},
      {"BoardOfNothing", kind, "direction = \"falling\"\nboard = \"breaker off\"\nboard_of = \"Orr",
       "direction = \"falling\"\nboard = \"breaker off\"\nboard_of = \"Ott",
       "...line '1' has no separation section or lowered stretch 'Ott phase separation'",
       "[[landmark]]\nline = \"1\"\nname = \"Orr board, other"},
      {"PlaceOnNoLine", kind, "on = [{ line = \"3\", at_km = 0 }]", "", "key 'on' is missing",
       "[[place]]\nid = \"varn\""},
      {"PlaceTwiceOnALine", kind, "{ line = \"3\", at_km = 8 }]", "{ line = @\"1\", at_km = 12 }]",
       "'Mosk' lies on line '1' already; where a line comes by twice there are two places"},
      {"PlaceOutsideItsLine", kind, "{ line = \"3\", at_km = 8 }]",
       "{ line = \"3\", at_km = @8.5 }]",
       "'Mosk' at km 8.5 lies outside line '3', which runs from km 0 to 8"},
      {"RegionOfASectionThatIsNotThere", kind, "sections = [\"a2\", \"c1\"]",
       "sections = [\"a2\", @\"c2\"]", "there is no section 'c2'; did you mean 'a2'?"},
      {"LegToNowhere", kind, "legs = [{ line = \"1\", to = \"norra\" }]",
       "legs = [@{ line = \"1\" }]", "key 'to' is missing"},
      {"MisspeltKeyOfAStretch", kind, "[[gradient]]\nline = \"1\"\nfrom_km",
       "[[gradient]]\nline = \"1\"\ndirection = \"rising\"\nfrom_km", "unknown key 'direction'",
       "direction = \"rising\"\nfrom_km"},
  };
}

std::vector<BadInput> bad_run_cases() {
  constexpr FileKind kind = FileKind::run;
  return {
      {"NoNetwork", kind, "network = \"../networks/n.toml\"\n", "", "key 'network' is missing"},
      {"NoTrain", kind, "train = \"../trains/t.toml\"\n", "", "key 'train' is missing"},
      {"NoWay", kind,
       "from = \"harl\"\nlegs = [{ line = \"1\", to = \"mosk\" }, { line = \"3\", to = \"varn\" "
       "}]\n",
       "",
       "which way the train runs is not said: 'way' names one of the network, or 'from' and 'legs' "
       "say it"},
      {"TwoWays", kind,
       "from = \"harl\"\nlegs = [{ line = \"1\", to = \"mosk\" }, { line = \"3\", to = \"varn\" "
       "}]\n",
       "way = \"w\"\nfrom = @\"harl\"\n", "'way' names one of the network: leave out 'from'"},
      {"DateAndDays", kind, "days = ", "date = 2031-05-13\ndays = @",
       "a train runs on one 'date' or on 'days', not both"},
      {"PassesAndArrives", kind, "passing = 05:58:30", "passing = 05:58:30\narrival = @05:58:00",
       "a train that passes does not stop: leave out 'passing' or 'arrival'"},
      {"TimeInQuotes", kind, "departure = 05:51:00", "departure = @\"05:51\"",
       "'departure' is text; expected a time of day, as in 05:40:00, without quotes"},
      {"StopWithoutPlace", kind, "at = \"orr\"\n", "", "key 'at' is missing",
       "[[stop]]\narrival = 05:50"},
      {"MisspeltKeyOfAStop", kind, "arrival = 05:50:00", "@arival = 05:50:00",
       "unknown key 'arival'; did you mean 'arrival'?"},
  };
}

}  // namespace panup
