#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "drawing/canvas.h"
#include "quality/envelope.h"

namespace panup {

/// An envelope with all that is said of it when it is handed out.
struct EnvelopeReport {
  Envelope envelope;
  std::vector<InputFile> inputs;
  std::vector<std::string> rule_books;  ///< names, in order
  std::string program_version;
  Words words = {};  ///< in which it is said
};

/// A speed that was judged at one distance.
struct SpeedAtDistance {
  double speed_kmh = 0;
  bool passes = false;
  double margin = 0;
  std::string criterion;
};

/// At one distance, by rising speed: those asked for, and the first that fails, which may lie
/// between two of them that pass.
std::vector<SpeedAtDistance> speeds_at(const Envelope& envelope, std::size_t distance);

/// Speeds that fail at one distance below faster ones that pass.
struct FailingBand {
  double spacing_m = 0;
  double from_kmh = 0;
  double to_kmh = 0;            ///< the last of the judged speeds that fails
  double passes_again_kmh = 0;  ///< the next judged speed
  std::string criterion;        ///< that decides at `from_kmh`
};

/// The bands of an envelope, by distance and speed; of the speeds judged.
std::vector<FailingBand> failing_bands(const Envelope& envelope);

/// A share of the samples, and the speed that so many of them pass, by distance.
struct SampleShare {
  std::string name;  ///< "half of samples pass"
  std::vector<double> speeds_kmh;
};

/// For half, nine in ten and all; the second only where it differs from all by their number. Empty
/// without samples.
std::vector<SampleShare> sample_shares(const Envelope& envelope, const Words& words);

/// The speed of the published table at a distance; nothing below its least one.
std::optional<double> published_speed(const PublishedSpeeds& published, double distance_m);

/// At which distances the permitted speed is below the published one, a sentence for each design
/// type.
std::vector<std::string> comparison_with_published(const Envelope& envelope, const Words& words);

/// "two UR 1950, knuckle leading or trailing".
std::string raised_words(const Envelope& envelope, const Words& words);

/// What the reader has to know of it beside its figures, one sentence each.
std::vector<std::string> notes_of(const Envelope& envelope, const Words& words);

std::string envelope_to_text(const EnvelopeReport& report);
nlohmann::ordered_json envelope_to_json(const EnvelopeReport& report);
/// `envelope.csv`, a line for each distance, `envelope-runs.csv`, one for each run,
/// `envelope-doubts.csv`, and what says what their columns are. They say what these fields of JSON
/// say, value by value.
std::vector<RenderedFile> envelope_csv_files(const EnvelopeReport& report);

/// Draws it on a sheet of A4 on its side; what the files below are drawn with.
void draw_envelope(Canvas& canvas, const TextSetter& setter, const EnvelopeReport& report);

/// The picture on one sheet: `envelope.pdf`, `envelope-1.svg`, `envelope-1.png`. Black and white
/// and levels of grey; the same envelope gives the same bytes on a machine with the same fonts.
std::vector<RenderedFile> render_envelope(const EnvelopeReport& report);
/// The same as one SVG.
std::string envelope_to_svg(const EnvelopeReport& report);

}  // namespace panup
