#include "toy.h"

#include <algorithm>

constexpr int limit = 100;  // no switch can stand here

bool fits(int width, int greatest) { return width <= greatest; }

bool is_between(int value, int least, int greatest) {
  // A comment within an expression must not swallow
  return least < value &&  // the rest of its line
         value < greatest;
}

int sum_of_positive(const std::vector<int>& values) {
  int sum = 0;
  for (const int value : values) {
    if (value < 0) {
      continue;
    }
    sum += std::min(value, limit);
  }
  return sum;
}

Box square(int width, const std::string& name) {
  return {.width = width, .height = width, .name = name};
}

std::string words(const Box& box) {
  std::string text = "box";
  if (!box.name.empty()) {
    text = text + " " + std::string(box.name);
  }
  return text;
}

std::optional<int> first_above(const std::vector<int>& values, int limit) {
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (values[i] > limit) {
      return values[i];
    }
  }
  return std::nullopt;
}

int never_called(int value) { return value + 1; }
