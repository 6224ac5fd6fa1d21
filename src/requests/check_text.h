#pragma once

#include <vector>

#include "base/file_source.h"

namespace panup {

/// What is wrong with an input file, whatever kind it says it is; empty where nothing is. A train's
/// stock is looked up in `files`. Of what else a file may name, nothing is looked up: sections that
/// conditions name, pantograph types of other stock files. A rule book may change entries of the
/// built-in one, and of one of `earlier_books`.
Diagnostics mistakes_in(const SourceText& source, const FileSource& files,
                        const std::vector<SourceText>& earlier_books);

}  // namespace panup
