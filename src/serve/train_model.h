#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "base/diagnostics.h"
#include "base/source_text.h"

namespace panup {

/// What a train file says, as the page works on it: the keys of the file, in lists that are never
/// missing, and with what the file need not say filled in. The text is that of a train without
/// mistakes.
///
/// It stands between file and page, not between `Train` and page, so that nothing the file says is
/// lost on the way there and back. `read_from` is the text, and `place` of each table of a list is
/// its place in it, from 0: by them the file is written back with its comments.
nlohmann::ordered_json train_to_model(const SourceText& source);

/// A train file that says what a model says, and nothing that goes without saying. Whether it is
/// right is for the reader of trains to say. A vehicle that is called by its number, "vehicle 2",
/// is left without an id of its own, so that it has the right number wherever it is put.
///
/// With a text under `read_from`, it is that text with what is different changed in it, and all
/// else as it was; a table that has been moved takes its comments along. Nothing, and why, where
/// the text has mistakes, or where that cannot be done without touching something else. `file` is
/// its name in messages. A value that is another one, where the file says where its values come
/// from, is said to be by hand, of `day`.
std::optional<std::string> model_to_train(const nlohmann::json& model, const std::string& file,
                                          const std::string& day, Diagnostics& diagnostics);

}  // namespace panup
