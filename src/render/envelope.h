#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "plan/plan.h"
#include "quality/envelope.h"
#include "render/canvas.h"
#include "render/card.h"

namespace panup {

/// An envelope with all that is said of it when it is handed out.
struct EnvelopeReport {
  Envelope envelope;
  std::vector<InputFile> inputs;
  std::vector<std::string> rule_books;  ///< names, in order
  std::string program_version;
};

/// Speeds that fail at one distance below faster ones that pass.
struct FailingBand {
  double spacing_m = 0;
  double from_kmh = 0;
  double to_kmh = 0;  ///< the last of the speeds asked for that fails
  std::string criterion;
};

/// The bands of an envelope, by distance and speed; of the speeds asked for.
std::vector<FailingBand> failing_bands(const Envelope& envelope);

/// "two UR 1950, knuckle leading or trailing".
std::string raised_words(const Envelope& envelope);

/// What the reader has to know of it beside its figures, one sentence each.
std::vector<std::string> notes_of(const Envelope& envelope);

std::string envelope_to_text(const EnvelopeReport& report);
nlohmann::ordered_json envelope_to_json(const EnvelopeReport& report);

/// Draws it on a sheet of A4 on its side; what the files below are drawn with.
void draw_envelope(Canvas& canvas, const TextSetter& setter, const EnvelopeReport& report);

/// The picture on one sheet: `envelope.pdf`, `envelope-1.svg`, `envelope-1.png`. Black and white
/// and levels of grey; the same envelope gives the same bytes on a machine with the same fonts.
std::vector<RenderedFile> render_envelope(const EnvelopeReport& report);
/// The same as one SVG.
std::string envelope_to_svg(const EnvelopeReport& report);

}  // namespace panup
