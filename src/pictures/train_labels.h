#pragma once

#include "pictures/train_drawing.h"

namespace panup {

/// Adds to a drawing whose wire is at its top the names of pantographs above the wire, which move
/// everything down, and below the rails the cabs, the vehicles, the loads and a scale.
void add_labels(const TextSetter& setter, const Train& train, const Layout& layout,
                const TrainDrawingStyle& style, TrainDrawing& drawing);

/// Adds nothing but the vehicle numbers, below the rails; those that have room.
void add_numbers(const TextSetter& setter, TrainDrawing& drawing);

}  // namespace panup
