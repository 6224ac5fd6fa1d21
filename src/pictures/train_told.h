#pragma once

#include <string>

#include "pictures/train_picture.h"

namespace panup {

/// What a picture of the train shows, in words: which pantographs are up, then from the front each
/// vehicle with its cab ahead and its pantographs, and each load with its nature.
std::string train_told(const Train& train, const ShownTrain& shown, const Words& words = {});

}  // namespace panup
