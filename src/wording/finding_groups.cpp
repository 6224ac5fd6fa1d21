#include "wording/finding_groups.h"

#include <algorithm>
#include <utility>

#include "wording/values_words.h"

namespace panup {

namespace {

FindingGroup& group_of(std::vector<FindingGroup>& groups, const Finding& finding) {
  const auto found = std::ranges::find_if(groups, [&](const FindingGroup& group) {
    return group.rule == finding.rule && group.strength == finding.strength &&
           group.kept == finding.kept;
  });
  if (found != groups.end()) {
    return *found;
  }
  groups.push_back({.rule = finding.rule,
                    .strength = finding.strength,
                    .standing = finding.standing,
                    .source = finding.source,
                    .because = finding.because,
                    .kept = finding.kept,
                    .sayings = {}});
  return groups.back();
}

void add(std::vector<FindingGroup>& groups, const Finding& finding, KmStretch where) {
  FindingGroup& group = group_of(groups, finding);
  auto saying = std::ranges::find(group.sayings, finding.text, &FindingGroup::Saying::text);
  if (saying == group.sayings.end()) {
    group.sayings.push_back({.text = finding.text, .where = {}, .everywhere = false});
    saying = group.sayings.end() - 1;
  }
  append(saying->where, where);
  add_values(finding.values, saying->values);
}

/// The strongest first, and what is not kept before the rest. Why there is a rule stands once.
void sort(std::vector<FindingGroup>& groups) {
  std::ranges::stable_sort(groups, {}, [](const FindingGroup& group) {
    return std::pair(group.strength, group.kept.value_or(true));
  });
  for (auto group = groups.begin(); group != groups.end(); ++group) {
    if (std::any_of(groups.begin(), group,
                    [&](const FindingGroup& before) { return before.rule == group->rule; })) {
      group->because.clear();
    }
  }
}

}  // namespace

std::vector<FindingGroup> group_findings(const std::vector<PlannedSection>& sections) {
  std::vector<FindingGroup> groups;
  std::vector<KmStretch> with_wire;
  for (const PlannedSection& section : sections) {
    if (section.lowered_for.empty()) {
      append(with_wire, {section.from_km, section.to_km});
    }
    for (const Finding& finding : section.findings) {
      add(groups, finding, {section.from_km, section.to_km});
    }
  }
  for (FindingGroup& group : groups) {
    for (FindingGroup::Saying& saying : group.sayings) {
      saying.everywhere = saying.where == with_wire;
    }
  }
  sort(groups);
  return groups;
}

std::vector<FindingGroup> group_findings(const std::vector<Finding>& findings) {
  std::vector<FindingGroup> groups;
  for (const Finding& finding : findings) {
    add(groups, finding, {});
  }
  sort(groups);
  return groups;
}

}  // namespace panup
