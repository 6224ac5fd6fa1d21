#pragma once

#include <string>
#include <vector>

#include "plan/plan.h"
#include "wording/wording.h"

namespace panup {

/// Where the plan accepts a last resort; empty if nowhere.
std::vector<KmStretch> last_resorts(const Plan& plan);

/// Consents named for the train that the plan rests on, each once, as the train names them.
std::vector<ConsentNamed> consents_used(const Plan& plan);

/// The answer of the plan in a few words: "Permitted", "Permitted, last resort accepted", "Consent
/// needed, last resort accepted", "No permitted configuration".
std::string headline(const Plan& plan);

/// The answer in a sentence: "Permitted, last resort accepted on km 0.0-12.4."
std::string answer_words(const Plan& plan);

/// "Running time 48 min, stops not counted."; empty where the train may not run.
std::string running_words(const Plan& plan);

/// Where a load is left unprotected by what is up, and to what it is exposed: "The dangerous load
/// (petrol in tank wagons) is exposed to dust and sparks of 2.1 on km 0.0-12.4." One for each load
/// and each set of pantographs; empty if none is.
std::vector<std::string> exposure_sentences(const Plan& plan);

}  // namespace panup
