#include "requests/parsed_files.h"

#include "files/read_network.h"
#include "files/read_route.h"

namespace panup {

template <typename Value, typename Read>
std::optional<Value> ParsedFiles::parsed(ByName<Value>& all, const std::string& name,
                                         Diagnostics& diagnostics, const Read& read) {
  std::shared_ptr<Parsed<Value>> found;
  {
    const std::scoped_lock lock(looking_up_);
    std::shared_ptr<Parsed<Value>>& known = all[name];
    if (known == nullptr) {
      known = std::make_shared<Parsed<Value>>();
    }
    found = known;
  }
  std::call_once(found->once, [&] { found->value = read(found->said); });
  diagnostics.insert(diagnostics.end(), found->said.begin(), found->said.end());
  return found->value;
}

std::optional<Route> ParsedFiles::route(const SourceText& source, Diagnostics& diagnostics) {
  return parsed(routes_, source.file, diagnostics,
                [&source](Diagnostics& said) { return read_route(source, said); });
}

std::optional<Network> ParsedFiles::network(const SourceText& source, Diagnostics& diagnostics) {
  return parsed(networks_, source.file, diagnostics,
                [&source](Diagnostics& said) { return read_network(source, said); });
}

Stock ParsedFiles::stock(const std::vector<SourceText>& sources, Diagnostics& diagnostics,
                         PantographTypes types) {
  std::string name = types == PantographTypes::among_these ? "all" : "some";
  for (const SourceText& source : sources) {
    name += '\n' + source.file;
  }
  return *parsed(stocks_, name, diagnostics, [&](Diagnostics& said) {
    return std::optional(read_stock(sources, said, types));
  });
}

}  // namespace panup
