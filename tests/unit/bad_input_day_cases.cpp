#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_day_cases() {
  constexpr FileKind kind = FileKind::day;
  return {
      {"NoDate", kind, "date = 2031-05-13\n", "", "key 'date' is missing"},
      {"DateWithATime", kind, "date = 2031-05-13", "date = @2031-05-13T05:40:00",
       "'date' is not a day alone; expected a day without a time, as in 2031-05-30, without "
       "quotes"},
      {"NoRuleBooks", kind, "rules = [\"rules.toml\"]", "rules = @[]",
       "'rules' is empty; leave it out where there is no such file"},
      {"ConsentsNotInAList", kind, "consents = [\"c-1.toml\", \"c-2.toml\"]", "consents = @\"c\"",
       "'consents' is text; expected a list of texts in [ ]"},
      {"TheSameFileTwice", kind, "\"c-2.toml\"", "\"../x/./c-1.toml\", \"../x/c-1.toml\"",
       "...is named twice", "\"../x/c-1.toml\"]"},
      {"NoNumber", kind, "number = \"60412\"\n", "", "key 'number' is missing",
       "[[train]]\ntrain = \"t1"},
      {"NumberWithoutQuotes", kind, "number = \"60412\"", "number = @60412",
       "'number' is a whole number; expected text in quotes"},
      {"NumberThatNoFolderIsCalledAfter", kind, "\"60412\"", "@\"604/12\"",
       "train number \"604/12\": it is made of letters, digits, '-', '_', '.' and spaces, for a "
       "folder is called after it"},
      {"NumberThatBeginsWithAPoint", kind, "\"60412\"", "@\"..\"",
       "train number \"..\": it neither begins nor ends with a space, and does not begin with '.'"},
      {"NumberThatEndsWithASpace", kind, "\"60412\"", "@\"60412 \"",
       "train number \"60412 \": it neither begins nor ends with a space, and does not begin with "
       "'.'"},
      {"NumberThatAFileIsCalled", kind, "\"60412\"", "@\"cards.pdf\"",
       "train number \"cards.pdf\": a file of the result is called so"},
      {"NumberThatATableIsCalled", kind, "\"60412\"", "@\"day-findings.csv\"",
       "train number \"day-findings.csv\": a file of the result is called so"},
      {"NumberTooLong", kind, "\"60412\"", "@\"" + std::string(65, '1') + "\"",
       "the train number has 65 characters; at most 64"},
      {"NumberTwice", kind, "\"Sp 7\"", "@\"60412\"",
       "train number \"60412\" stands here a second time, after f.toml:11:10"},
      {"NumbersWithOneFolder", kind, "\"60412\"", "\"Sp_7\"",
       "train number \"Sp 7\" stands here a second time, after f.toml:11:10; a space counts as '_'",
       "\"Sp 7\""},
      {"NoTrain", kind, "train = \"t1.toml\"\n", "", "key 'train' is missing",
       "[[train]]\nnumber = \"60412"},
      {"NoRoute", kind, "route = \"r1.toml\"\n", "", "key 'route' is missing",
       "[[train]]\nnumber = \"60412"},
      {"DepartureInQuotes", kind, "departure = 05:40:00", "departure = @\"05:40\"",
       "'departure' is text; expected a time of day, as in 05:40:00, without quotes"},
      {"DepartureWithADay", kind, "departure = 05:40:00", "departure = @2031-05-13T05:40:00",
       "'departure' is not a time alone; expected a time of day, as in 05:40:00, without quotes"},
      {"NoVehicles", kind, "vehicles = [\"K41 007\", \"K41 011\"]", "vehicles = @[]",
       "'vehicles' is empty; leave it out where the numbers of the train file hold"},
      {"AVehicleTwice", kind, "\"K41 011\"]", "\"K41 007\"]",
       "vehicle 'K41 007' stands in the train twice", "[\"K41 007\", \"K41 007\"]"},
      {"MisspeltKeyOfARow", kind, "conditions = \"iced.toml\"", "@condition = \"iced.toml\"",
       "unknown key 'condition'; did you mean 'conditions'?"},
      {"MisspeltKey", kind, "defects = [", "@defect = [",
       "unknown key 'defect'; did you mean 'defects'?"},
      {"TableThatIsNotThere", kind, "invented = true", "table = @\"nowhere.csv\"",
       "nowhere.csv: there is no such file"},
  };
}

std::vector<BadInput> bad_defects_cases() {
  constexpr FileKind kind = FileKind::defects;
  return {
      {"OfNoVehicle", kind, "vehicle = \"K41 007\"\n", "", "key 'vehicle' is missing",
       "[[defect]]\npantograph = 2"},
      {"OfNoPantograph", kind, "pantograph = 2\n", "", "key 'pantograph' is missing",
       "[[defect]]\nvehicle = \"K41 007\""},
      {"PantographZero", kind, "pantograph = 2", "pantograph = @0",
       "'pantograph' is 0; expected a value from 1 to 8"},
      {"SinceNoDay", kind, "since = 2031-05-11\n", "", "key 'since' is missing",
       "[[defect]]\nvehicle = \"K41 007\""},
      {"OverBeforeItBegins", kind, "until = 2031-05-16", "until = @2031-05-10",
       "'until' is 2031-05-10, before 'since', 2031-05-11; expected that day or a later one"},
      {"DayInQuotes", kind, "until = 2031-05-16", "until = @\"16 May\"",
       "'until' is text; expected a day without a time, as in 2031-05-30, without quotes"},
      {"MisspeltKey", kind, "still_possible", "@still_posible",
       "unknown key 'still_posible'; did you mean 'still_possible'?"},
  };
}

std::vector<BadInput> bad_practice_cases() {
  constexpr FileKind kind = FileKind::practice_cases;
  const std::string what_is_up =
      "; expected \"none\", or what is up, as in \"F1 R2\": F front, R rear, M between, U the only "
      "one, and the number of the working locomotive";
  return {
      {"NoSource", kind, "source = { en = \"practice\", de = \"Praxis\" }\n", "",
       "key 'source' is missing"},
      {"NoId", kind, "id = \"one\"\n", "", "key 'id' is missing", "[[case]]\nof = \"P7\""},
      {"TheSameIdTwice", kind, "\"two\"", "@\"one\"", "...id 'one' is used already"},
      {"OfNoCase", kind, "\"P7\"", "@\"7\"",
       "'of' is \"7\"; expected the number of a case of working practice, as in \"P6\""},
      {"OfACaseWithALetter", kind, "\"P7\"", "@\"P7a\"",
       "'of' is \"P7a\"; expected the number of a case of working practice, as in \"P6\""},
      {"OfCaseZero", kind, "\"P7\"", "@\"P07\"",
       "'of' is \"P07\"; expected the number of a case of working practice, as in \"P6\""},
      {"NoTitle", kind, "title = { en = \"Ice\", de = \"Eis\" }\n", "", "key 'title' is missing",
       "[[case]]\nid = \"one\""},
      {"NoGermanTitle", kind, "{ en = \"Ice\", de = \"Eis\" }", "@{ en = \"Ice\" }",
       "key 'de' is missing"},
      {"NoGermanSourceOfACase", kind, "{ en = \"derived\", de = \"abgeleitet\" }",
       "@{ en = \"derived\" }", "key 'de' is missing"},
      {"TitleAsText", kind, "{ en = \"Ice\", de = \"Eis\" }", "@\"Ice\"",
       "'title' is text; expected one table, begun by [title]"},
      {"NoRoute", kind, "route = \"r.toml\"\nconditions", "conditions", "key 'route' is missing",
       "[[case]]\nid = \"one\""},
      {"AWordForWhatIsUp", kind, "\"F1 R1\"", "@\"F1 rear\"",
       "'raised' is \"F1 rear\"" + what_is_up},
      {"NoPlaceOnTheRoof", kind, "\"F1 R1\"", "@\"X1\"", "'raised' is \"X1\"" + what_is_up},
      {"LocomotiveZero", kind, "\"F1 R1\"", "@\"F0\"", "'raised' is \"F0\"" + what_is_up},
      {"ASpaceAtTheEnd", kind, "\"F1 R1\"", "@\"F1 \"", "'raised' is \"F1 \"" + what_is_up},
      {"AnotherAnswer", kind, "\"forbidden\"", "@\"no\"",
       "'answer' is \"no\"; expected \"permitted\", \"consent needed\", \"forbidden\" or "
       "\"both alternatives\""},
      {"ASpeedByNoRule", kind, "speed_rule = \"ice-speed\"\n", "",
       "'speed_kmh' and 'speed_rule' go together: state both, or none of them",
       "[[case]]\nid = \"one\""},
      {"ARuleOfNoSpeed", kind, "speed_kmh = 60\n", "",
       "'speed_kmh' and 'speed_rule' go together: state both, or none of them",
       "[[case]]\nid = \"one\""},
      {"MisspeltKey", kind, "gives_up", "@give_up",
       "unknown key 'give_up'; did you mean 'gives_up'?"},
  };
}

std::vector<BadInput> bad_what_if_cases() {
  constexpr FileKind kind = FileKind::what_if;
  return {
      {"NoName", kind, "name = \"All of it\"\n", "", "key 'name' is missing"},
      {"ConditionsInAList", kind, "\"frost.toml\"", "@[\"frost.toml\"]",
       "'conditions' is a list; expected text in quotes"},
      {"NoRuleBooks", kind, "[\"winter.toml\", \"later.toml\"]", "@[]",
       "'rules' is empty; leave it out where there is no such file"},
      {"TheSameRuleBookTwice", kind, "\"later.toml\"", "@\"./winter.toml\"",
       "winter.toml is named twice"},
      {"OfNoFile", kind, "file = \"r.toml\"\n", "", "key 'file' is missing",
       "[[replace_file]]\nby = \"r-2.toml\""},
      {"ByNoFile", kind, "by = \"r-2.toml\"\n", "", "key 'by' is missing",
       "[[replace_file]]\nfile = \"r.toml\""},
      {"ByItself", kind, "\"r-2.toml\"", "@\"x/../r.toml\"", "r.toml would stand in its own place"},
      {"AFileReplacedTwice", kind, "file = \"t.toml\"", "file = @\"./r.toml\"",
       "r.toml is replaced twice"},
      {"OfNoClass", kind, "class = \"k41\"\n", "", "key 'class' is missing",
       "[[replace_class]]\nby"},
      {"ByNoClass", kind, "by = \"l30\"\n", "", "key 'by' is missing", "[[replace_class]]\nclass"},
      {"AClassByItself", kind, "\"l30\"", "@\"k41\"", "class 'k41' would run in its own place"},
      {"AClassReplacedTwice", kind, "by = \"l30\"\n",
       "by = \"l30\"\n[[replace_class]]\nclass = @\"k41\"\nby = \"s12\"\n",
       "class 'k41' is replaced twice"},
      {"MisspeltKey", kind, "conditions", "@condition",
       "unknown key 'condition'; did you mean 'conditions'?"},
      {"MisspeltTable", kind, "[[replace_class]]", "[[@replace_clas]]",
       "unknown key 'replace_clas'; did you mean 'replace_class'?"},
  };
}

}  // namespace panup
