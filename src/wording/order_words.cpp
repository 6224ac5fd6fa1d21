#include "wording/order_words.h"

namespace panup {

namespace {

std::string without_stop(std::string text) {
  if (text.ends_with('.')) {
    text.pop_back();
  }
  return text;
}

}  // namespace

OrderWords words_of(const Instruction& instruction) {
  const std::string& text = instruction.text;
  OrderWords words;
  std::size_t end_of_place = std::string::npos;
  if (!instruction.landmark.empty()) {
    const std::size_t at = text.find(", " + instruction.landmark);
    if (at != std::string::npos) {
      words.action = text.substr(0, at);
      words.landmark = instruction.landmark;
      end_of_place = at + 2 + instruction.landmark.size();
    }
  }
  if (end_of_place == std::string::npos) {
    // "Reverse: the train leaves …" has a colon of its own and no reason behind it.
    const std::size_t colon =
        instruction.action == Action::reverse ? std::string::npos : text.find(": ");
    words.action = without_stop(text.substr(0, colon));
    end_of_place = colon == std::string::npos ? text.size() : colon;
  }
  if (text.compare(end_of_place, 2, ": ") == 0) {
    words.reason = without_stop(text.substr(end_of_place + 2));
  }
  return words;
}

}  // namespace panup
