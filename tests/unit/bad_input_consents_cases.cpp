#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_consents_cases() {
  constexpr FileKind kind = FileKind::consents;
  return {
      {"NoConsent", kind,
       "[[consent]]\nreference = \"NV-7\"\ngiven_by = \"Nordvale Infrastructure\"\nnumber = 2\n"
       "distance_m = 7.5\nspeed_kmh = 60\nsections = [\"a1\", \"z9\"]\ntrains = [\"t1\", \"t2\"]\n"
       "classes = [\"k41\"]\nvalid_from = 2031-05-01\nvalid_until = 2031-05-31\n\n[[consent]]\n"
       "reference = \"NV-8\"\ngiven_by = \"Nordvale Infrastructure\"\nrule = \"coasting\"\n",
       "", "key 'consent' is missing"},
      {"OverBeforeItBegins", kind, "valid_until = 2031-05-31", "valid_until = @2031-04-30",
       "'valid_until' is 2031-04-30, before 'valid_from', 2031-05-01; expected that day or a later "
       "one"},
      {"DayInQuotes", kind, "valid_from = 2031-05-01", "valid_from = @\"1 May 2031\"",
       "'valid_from' is text; expected a day without a time, as in 2031-05-30, without quotes"},
      {"ForNoTrain", kind, "trains = [\"t1\", \"t2\"]", "trains = @[]",
       "'trains' is empty; leave it out for any train"},
      {"ForNoClass", kind, "classes = [\"k41\"]", "classes = @[]",
       "'classes' is empty; leave it out for any class"},
      {"ForNoSection", kind, "sections = [\"a1\", \"z9\"]", "sections = @[]",
       "'sections' is empty; leave it out for the whole route"},
      {"TrainNotAList", kind, "trains = [\"t1\", \"t2\"]", "trains = @\"t1\"",
       "'trains' is text; expected a list of texts in [ ]"},
      {"MisspeltKey", kind, "classes = [\"k41\"]", "@clases = [\"k41\"]",
       "unknown key 'clases'; did you mean 'classes'?"},
      {"SpeedOfARuleConsent", kind, "rule = \"coasting\"", "rule = \"coasting\"\nspeed_kmh = @60",
       "'speed_kmh' is for raised pantographs; a consent for the rule 'coasting' has no number, "
       "distance or speed"},
      {"GivenByNobody", kind, "given_by = \"Nordvale Infrastructure\"\nnumber = 2", "number = 2",
       "key 'given_by' is missing", "[[consent]]\nreference = \"NV-7\""},
  };
}

}  // namespace panup
