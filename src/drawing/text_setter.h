#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "drawing/sheet_places.h"

typedef struct _PangoContext PangoContext;  // NOLINT(modernize-use-using): as Pango names it
typedef struct _PangoLayout PangoLayout;    // NOLINT(modernize-use-using): as Pango names it

namespace panup {

enum class FontWeight : std::uint8_t { regular, semibold, bold };
enum class TextAlign : std::uint8_t { left, centre, right };

struct TextStyle {
  double size_pt = 9;
  FontWeight weight = FontWeight::regular;
  bool struck = false;  ///< struck through
};

/// A run of text in one style.
struct TextSpan {
  std::string text;
  TextStyle style;
};

/// A part of a text that stands on one line in one style. Where it begins or ends with spaces, they
/// are left out; a space that follows a space is a no-break space, so that both are seen.
struct TextPiece {
  std::string words;
  Point at;  ///< left end of its baseline, from the upper left corner of the text
  double width = 0;
  TextStyle style;
};

/// A text laid out and measured, ready to be drawn on any canvas. Copies share the layout.
class Text {
 public:
  Text() = default;

  /// Of the widest line, or the width it was set to, in points.
  double width() const { return width_; }
  double height() const { return height_; }
  /// Of the first line, below the top.
  double baseline() const { return baseline_; }
  /// Of the smallest type in it, in points.
  double smallest_pt() const { return smallest_pt_; }
  bool empty() const { return layout_ == nullptr; }
  /// What it was set from.
  const std::string& words() const { return words_; }
  /// Line by line, from the left, as it was laid out.
  std::vector<TextPiece> pieces() const;
  PangoLayout* layout() const { return layout_.get(); }

 private:
  friend class TextSetter;
  /// Where a style ends, in bytes of the layout's text.
  struct StyleEnd {
    std::size_t at = 0;
    TextStyle style;
  };
  std::shared_ptr<PangoLayout> layout_;
  std::string words_;  ///< as it was given
  std::vector<StyleEnd> styles_;
  double width_ = 0;
  double height_ = 0;
  double baseline_ = 0;
  double smallest_pt_ = 0;
};

/// Sets text in the card's typeface, with figures of equal width. One for a drawing and a thread.
class TextSetter {
 public:
  TextSetter() : TextSetter(Words()) {}
  explicit TextSetter(const Words& words);

  /// The language that it sets.
  const Words& words() const { return words_; }

  /// Sets `spans` one after the other. With a width, lines break at spaces, and within a word that
  /// is longer than a line.
  Text set(const std::vector<TextSpan>& spans, std::optional<double> width = std::nullopt,
           TextAlign align = TextAlign::left) const;
  Text set(std::string_view text, TextStyle style, std::optional<double> width = std::nullopt,
           TextAlign align = TextAlign::left) const;

 private:
  Words words_;
  std::shared_ptr<PangoContext> context_;
};

}  // namespace panup
