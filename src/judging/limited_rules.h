#pragma once
/// Where rules hold that are limited to sections, lines, classes or loads.

#include "line/route.h"
#include "rules/only_for.h"
#include "stock/train.h"

namespace panup {

/// By `sections` and `lines`. A section that does not state its line belongs to none of them.
bool holds_on(const OnlyFor& only_for, const Section& section);

/// By `loads`: whether a load of the train is of one of these natures.
bool holds_for_load(const OnlyFor& only_for, const Train& train);

/// By `classes`, as far as this vehicle goes.
bool holds_for_class(const OnlyFor& only_for, const Vehicle& vehicle);

/// By `loads` and `classes`: one vehicle of these classes that is not stated to be dead in tow is
/// enough, wherever it stands in the train.
bool holds_for(const OnlyFor& only_for, const Train& train);

}  // namespace panup
