#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"

namespace panup {

/// An element of an XML file: its name without namespace, and its text without the spaces around
/// it.
struct XmlElement {
  std::string name;
  std::string text;
  int line = 0;
  int column = 0;
  std::vector<XmlElement> children;

  /// The first child of this name; null where there is none.
  const XmlElement* child(std::string_view wanted) const;
  /// The first along a way of children.
  const XmlElement* at(std::initializer_list<std::string_view> way) const;
};

struct XmlTree {
  std::string name_space;  ///< of the root; elements of others are left out
  XmlElement root;
};

inline constexpr std::size_t deepest_xml_element = 32;
inline constexpr std::size_t most_xml_elements = 300'000;

/// Reads an XML 1.0 file with namespaces. Nothing, and a diagnostic at its place, where it is not
/// well-formed, is cut off, is in an encoding other than UTF-8, UTF-16, ISO-8859-1 or US-ASCII, is
/// deeper or has more elements than the limits above, or has a document type: no entity is ever
/// defined, so none can grow, and no other file or address is ever looked at.
std::optional<XmlTree> read_xml(const SourceText& source, Diagnostics& mistakes);

}  // namespace panup
