#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostics.h"
#include "files/read_stock.h"
#include "line/network.h"
#include "line/route.h"

namespace panup {

/// What readers made of files, each parsed once for all requests that read the same bytes, as the
/// trains of a day do through one `FilesReadOnce`. What was said of a file is said again to
/// everyone who asks. Safe from any thread.
class ParsedFiles {
 public:
  std::optional<Route> route(const SourceText& source, Diagnostics& diagnostics);
  std::optional<Network> network(const SourceText& source, Diagnostics& diagnostics);
  Stock stock(const std::vector<SourceText>& sources, Diagnostics& diagnostics,
              PantographTypes types);

 private:
  template <typename Value>
  struct Parsed {
    std::once_flag once;
    std::optional<Value> value;
    Diagnostics said;
  };
  template <typename Value>
  using ByName = std::map<std::string, std::shared_ptr<Parsed<Value>>>;

  template <typename Value, typename Read>
  std::optional<Value> parsed(ByName<Value>& all, const std::string& name, Diagnostics& diagnostics,
                              const Read& read);

  std::mutex looking_up_;
  ByName<Route> routes_;
  ByName<Network> networks_;
  ByName<Stock> stocks_;
};

}  // namespace panup
