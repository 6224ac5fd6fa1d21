#pragma once

#include <string>

#include "files/read_stock.h"
#include "line/route.h"

namespace panup {

/// What the separation sections of a route that are passed with pantographs up mean for vehicles of
/// a stock, one sentence a section without the last full stop: how far apart two raised pantographs
/// may stand, and which double headings of vehicles that pass alone cannot, whichever of their
/// pantographs is up. Main circuit breakers are taken to be open, and nothing on the train to join
/// the two. Strips whose extent is not stated reach over `strips_not_stated_m`. Sections that rule
/// nothing out are left out.
std::string separation_remark(const Route& route, const Stock& stock, double strips_not_stated_m);

}  // namespace panup
