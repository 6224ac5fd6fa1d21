#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "base/source_text.h"

namespace panup {

/// What a train file says, as the page works on it: the keys of the file, in lists that are never
/// missing, and with what the file need not say filled in. The text is that of a train without
/// mistakes.
///
/// It stands between file and page, not between `Train` and page, so that nothing the file says is
/// lost on the way there and back, comments apart.
nlohmann::ordered_json train_to_model(const SourceText& source);

/// A train file that says what a model says, and nothing that goes without saying. Whether it is
/// right is for the reader of trains to say. A vehicle that is called by its number, "vehicle 2",
/// is left without an id of its own, so that it has the right number wherever it is put.
std::string model_to_train(const nlohmann::json& model);

}  // namespace panup
