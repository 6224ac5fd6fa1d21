#include "requests/case_input.h"

namespace panup {

PlanPaths paths_of_case(const PracticeCases& cases, const PracticeCase& one) {
  PlanPaths paths;
  paths.train = one.train.path;
  paths.route = one.route.path;
  paths.conditions = one.conditions ? one.conditions->path : std::string();
  for (const FileNamed& book : cases.rules) {
    paths.rules.push_back(book.path);
  }
  return paths;
}

}  // namespace panup
