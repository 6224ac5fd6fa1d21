#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

struct Box {
  int width = 1;
  int height = 1;
  std::string_view name;
};

bool fits(int width, int greatest);
bool is_between(int value, int least, int greatest);
int sum_of_positive(const std::vector<int>& values);
Box square(int width, const std::string& name);
std::string words(const Box& box);
std::optional<int> first_above(const std::vector<int>& values, int limit);
int never_called(int value);
