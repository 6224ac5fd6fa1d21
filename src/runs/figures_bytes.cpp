#include "runs/figures_bytes.h"

#include "runs/bytes.h"

namespace panup {

namespace {

/// A sentence has others in it, one in the other: of what is said of each pantograph.
constexpr std::uint64_t deepest_sentence = 64;

void write(ByteWriter& writer, const Sentence& sentence) {
  writer.text(sentence.pattern());
  writer.count(sentence.arguments().size());
  for (const Sentence::Argument& argument : sentence.arguments()) {
    writer.count(argument.value.index());
    if (const auto* const number = std::get_if<double>(&argument.value)) {
      writer.figures(*number);
    } else if (const auto* const count = std::get_if<std::uint64_t>(&argument.value)) {
      writer.count(*count);
    } else if (const auto* const text = std::get_if<std::string>(&argument.value)) {
      writer.text(*text);
    } else {
      write(writer, std::get<std::vector<Sentence>>(argument.value).front());
    }
  }
}

bool read(ByteReader& reader, Sentence& sentence, std::uint64_t depth = 0);

bool read(ByteReader& reader, Sentence::Argument& argument, std::uint64_t depth) {
  std::uint64_t kind = 0;
  std::string_view text;
  Sentence inner;
  if (!reader.count(kind)) {
    return false;
  }
  switch (kind) {
    case 0:
      return reader.figures(argument.value.emplace<double>());
    case 1:
      return reader.count(argument.value.emplace<std::uint64_t>());
    case 2:
      if (!reader.text(text)) {
        return false;
      }
      argument.value = std::string(text);
      return true;
    case 3:
      if (!read(reader, inner, depth + 1)) {
        return false;
      }
      argument.value = std::vector<Sentence>{std::move(inner)};
      return true;
    default:
      return false;
  }
}

bool read(ByteReader& reader, Sentence& sentence, std::uint64_t depth) {
  std::string_view pattern;
  std::uint64_t count = 0;
  bool whole = depth < deepest_sentence && reader.text(pattern) && reader.count(count);
  std::vector<Sentence::Argument> arguments;
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    whole = read(reader, arguments.emplace_back(), depth);
  }
  sentence = Sentence(std::string(pattern), std::move(arguments));
  return whole && (depth > 0 || sentence.is_sound());
}

}  // namespace

// The structs are taken apart whole, so that a figure added to one cannot be forgotten here.

std::string to_bytes(const RunFigures& figures) {
  const auto& [pantographs, wave_speed, support_uplift, span_uplift, refusals, warnings] = figures;
  ByteWriter writer;
  writer.count(pantographs.size());
  for (const auto& [mean, std, max, min, percent, longest, least] : pantographs) {
    writer.figures(mean, std, max, min, percent, longest, least);
  }
  writer.figures(wave_speed, support_uplift, span_uplift);
  writer.count(refusals.size());
  for (const Sentence& refusal : refusals) {
    write(writer, refusal);
  }
  writer.count(warnings.size());
  for (const auto& [doubt, text] : warnings) {
    writer.count(static_cast<std::uint64_t>(doubt));
    write(writer, text);
  }
  return writer.bytes();
}

std::optional<RunFigures> figures_from(std::string_view bytes) {
  ByteReader reader(bytes);
  RunFigures figures;
  auto& [pantographs, wave_speed, support_uplift, span_uplift, refusals, warnings] = figures;
  std::uint64_t count = 0;
  bool whole = reader.count(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    auto& [mean, std, max, min, percent, longest, least] = pantographs.emplace_back();
    whole = reader.figures(mean, std, max, min, percent, longest, least);
  }
  whole = whole && reader.figures(wave_speed, support_uplift, span_uplift) && reader.count(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    whole = read(reader, refusals.emplace_back());
  }
  whole = whole && reader.count(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    std::uint64_t doubt = 0;
    whole = reader.count(doubt) && doubt <= static_cast<std::uint64_t>(last_doubt) &&
            read(reader, warnings.emplace_back().text);
    if (whole) {
      warnings.back().doubt = static_cast<Doubt>(doubt);
    }
  }
  return whole && reader.at_end() ? std::optional(std::move(figures)) : std::nullopt;
}

}  // namespace panup
