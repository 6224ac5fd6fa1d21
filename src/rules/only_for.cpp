#include "rules/only_for.h"

namespace panup {

std::string only_for_words(const OnlyFor& only_for, const Words& words) {
  if (only_for.empty()) {
    return {};
  }
  std::vector<std::string> parts;
  if (!only_for.sections.empty()) {
    parts.push_back(words.say("section {}", words.listed_or(only_for.sections)));
  }
  if (!only_for.lines.empty()) {
    parts.push_back(words.say("line {}", words.listed_or(only_for.lines)));
  }
  if (!only_for.classes.empty()) {
    parts.push_back(words.say("class {}", words.listed_or(only_for.classes)));
  }
  if (!only_for.loads.empty()) {
    std::vector<std::string> natures;
    for (const std::string& nature : only_for.loads) {
      natures.push_back(words.named(nature));
    }
    parts.push_back(only_for.loads.front() == "ordinary"
                        ? words.say("an {} load", words.listed_or(natures))
                        : words.say("a {} load", words.listed_or(natures)));
  }
  return words.say("only for {}", words.listed(parts));
}

}  // namespace panup
