#include "line/route.h"

namespace panup {

std::string_view name_of(DesignType type) {
  switch (type) {
    case DesignType::a:
      return "A";
    case DesignType::b:
      return "B";
    case DesignType::c:
      return "C";
  }
  return {};
}

std::string_view name_of(SeparationKind kind) {
  return kind == SeparationKind::phase ? "phase separation section" : "system separation section";
}

}  // namespace panup
