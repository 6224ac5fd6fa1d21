#pragma once

#include <string>

#include "base/words.h"
#include "plan/plan.h"

namespace panup {

/// The train in a few lines of text, front first: above each vehicle its pantographs, those of
/// `raised` in a line of their own; below, the vehicles and loads with what is to be known of each.
std::string train_to_text(const Train& train, const std::vector<PantographRef>& raised,
                          bool reversed, const Words& words = {});

}  // namespace panup
