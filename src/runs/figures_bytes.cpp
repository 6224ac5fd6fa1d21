#include "runs/figures_bytes.h"

#include "runs/bytes.h"

namespace panup {

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
  for (const std::string& refusal : refusals) {
    writer.text(refusal);
  }
  writer.count(warnings.size());
  for (const auto& [doubt, text] : warnings) {
    writer.count(static_cast<std::uint64_t>(doubt));
    writer.text(text);
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
    std::string_view refusal;
    whole = reader.text(refusal);
    refusals.emplace_back(refusal);
  }
  whole = whole && reader.count(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    std::uint64_t doubt = 0;
    std::string_view text;
    whole =
        reader.count(doubt) && doubt <= static_cast<std::uint64_t>(last_doubt) && reader.text(text);
    warnings.push_back({static_cast<Doubt>(doubt), std::string(text)});
  }
  return whole && reader.at_end() ? std::optional(std::move(figures)) : std::nullopt;
}

}  // namespace panup
