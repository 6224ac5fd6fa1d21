#include "base/handed_out.h"

namespace panup {

namespace {

std::string supports_and_does_not_replace(std::string_view thing, const Words& words) {
  if (thing == "card") {
    return words.say(
        "This card supports, and does not replace, the rules of the infrastructure manager and the "
        "operator and the decision of the person responsible.");
  }
  if (thing == "table") {
    return words.say(
        "This table supports, and does not replace, the rules of the infrastructure manager and "
        "the "
        "operator and the decision of the person responsible.");
  }
  if (thing == "comparison") {
    return words.say(
        "This comparison supports, and does not replace, the rules of the infrastructure manager "
        "and the "
        "operator and the decision of the person responsible.");
  }
  if (thing == "result") {
    return words.say(
        "This result supports, and does not replace, the rules of the infrastructure manager and "
        "the "
        "operator and the decision of the person responsible.");
  }
  return words.say(
      "This plan supports, and does not replace, the rules of the infrastructure manager and the "
      "operator and the decision of the person responsible.");
}

}  // namespace

std::string invented_words(const Words& words) { return words.named(invented_mark); }

std::vector<std::string> cautions(std::string_view thing, const Words& words) {
  return {
      supports_and_does_not_replace(thing, words),
      words.say("Local rules and licensed practice come first."),
      words.say("Nobody goes on a roof or near a live wire on the strength of it."),
  };
}

}  // namespace panup
