#include "store/figures_bytes.h"

#include <bit>
#include <cstdint>
#include <limits>

namespace panup {

namespace {

static_assert(std::numeric_limits<double>::is_iec559 && sizeof(double) == sizeof(std::uint64_t));

void write(std::string& bytes, std::uint64_t number) {
  for (int shift = 0; shift < 64; shift += 8) {
    bytes.push_back(static_cast<char>(number >> shift & 0xffU));
  }
}

template <typename... Figures>
void write_figures(std::string& bytes, Figures... figures) {
  (write(bytes, std::bit_cast<std::uint64_t>(figures)), ...);
}

/// Takes what was written off the front of the bytes.
class Reader {
 public:
  explicit Reader(std::string_view bytes) : rest_(bytes) {}

  bool read(std::uint64_t& number) {
    if (rest_.size() < sizeof number) {
      return false;
    }
    number = 0;
    for (std::size_t i = 0; i < sizeof number; ++i) {
      number |= std::uint64_t{static_cast<unsigned char>(rest_[i])} << (8 * i);
    }
    rest_.remove_prefix(sizeof number);
    return true;
  }

  template <typename... Figures>
  bool read_figures(Figures&... figures) {
    return (read_figure(figures) && ...);
  }

  bool read(std::string& text) {
    std::uint64_t size = 0;
    if (!read(size) || size > rest_.size()) {
      return false;
    }
    text = rest_.substr(0, size);
    rest_.remove_prefix(size);
    return true;
  }

  bool at_end() const { return rest_.empty(); }

 private:
  bool read_figure(double& figure) {
    std::uint64_t bits = 0;
    const bool is_there = read(bits);
    figure = std::bit_cast<double>(bits);
    return is_there;
  }

  std::string_view rest_;
};

}  // namespace

// The structs are taken apart whole, so that a figure added to one cannot be forgotten here.

std::string to_bytes(const RunFigures& figures) {
  const auto& [pantographs, wave_speed, support_uplift, span_uplift, energy_error, refusals] =
      figures;
  std::string bytes;
  write(bytes, pantographs.size());
  for (const auto& [mean, std, max, min, percent, longest] : pantographs) {
    write_figures(bytes, mean, std, max, min, percent, longest);
  }
  write_figures(bytes, wave_speed, support_uplift, span_uplift, energy_error);
  write(bytes, refusals.size());
  for (const std::string& refusal : refusals) {
    write(bytes, refusal.size());
    bytes += refusal;
  }
  return bytes;
}

std::optional<RunFigures> figures_from(std::string_view bytes) {
  Reader reader(bytes);
  RunFigures figures;
  auto& [pantographs, wave_speed, support_uplift, span_uplift, energy_error, refusals] = figures;
  std::uint64_t count = 0;
  bool whole = reader.read(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    auto& [mean, std, max, min, percent, longest] = pantographs.emplace_back();
    whole = reader.read_figures(mean, std, max, min, percent, longest);
  }
  whole = whole && reader.read_figures(wave_speed, support_uplift, span_uplift, energy_error) &&
          reader.read(count);
  for (std::uint64_t i = 0; whole && i < count; ++i) {
    whole = reader.read(refusals.emplace_back());
  }
  return whole && reader.at_end() ? std::optional(std::move(figures)) : std::nullopt;
}

}  // namespace panup
