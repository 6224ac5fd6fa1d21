#pragma once

#include "drawing/csv_table.h"

namespace panup {

/// The tables that `stock_from_tables` reads, without rows, for whoever fills them in: each heading
/// with its type, unit and meaning. What a stock file needs may be blank here.
CsvTable pantographs_to_fill_in();
CsvTable classes_to_fill_in();
CsvTable roofs_to_fill_in();

}  // namespace panup
