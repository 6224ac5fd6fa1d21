/// What is read off an envelope: its judged speeds, failing bands, shares of samples.

#include <algorithm>
#include <array>
#include <cmath>

#include "figures/envelope.h"
#include "figures/sample_shares.h"

namespace panup {

namespace {

/// "20 m, 40 m to 60 m": neighbours among the distances of the envelope as one stretch.
std::string stretches_words(const std::vector<double>& spacings_m, const std::vector<bool>& in,
                            const Words& words) {
  std::string text;
  for (std::size_t d = 0; d < in.size(); ++d) {
    if (!in[d]) {
      continue;
    }
    const std::size_t first = d;
    while (d + 1 < in.size() && in[d + 1]) {
      ++d;
    }
    text += text.empty() ? "" : ", ";
    text += d > first ? words.say("{:g} m to {:g} m", spacings_m[first], spacings_m[d])
                      : words.say("{:g} m", spacings_m[first]);
  }
  return text;
}

}  // namespace

std::vector<SpeedAtDistance> speeds_at(const Envelope& envelope, std::size_t distance) {
  std::vector<SpeedAtDistance> judged;
  for (std::size_t v = 0; v < envelope.speeds_kmh.size(); ++v) {
    const EnvelopeCell& cell = envelope.cells[distance][v];
    judged.push_back({envelope.speeds_kmh[v], cell.passes, cell.margin, cell.criterion});
  }
  const PermittedSpeed& permitted = envelope.permitted[distance];
  if (permitted.fails_at_kmh) {
    const auto place =
        std::ranges::lower_bound(judged, *permitted.fails_at_kmh, {}, &SpeedAtDistance::speed_kmh);
    if (place == judged.end() || place->speed_kmh != *permitted.fails_at_kmh) {
      judged.insert(place, {*permitted.fails_at_kmh, false, permitted.margin, permitted.criterion});
    }
  }
  return judged;
}

std::vector<FailingBand> failing_bands(const Envelope& envelope) {
  std::vector<FailingBand> bands;
  for (std::size_t d = 0; d < envelope.cells.size(); ++d) {
    const std::vector<SpeedAtDistance> judged = speeds_at(envelope, d);
    std::size_t v = 0;
    while (v < judged.size()) {
      if (judged[v].passes) {
        ++v;
        continue;
      }
      const std::size_t from = v;
      while (v < judged.size() && !judged[v].passes) {
        ++v;
      }
      if (v < judged.size()) {
        bands.push_back({envelope.spacings_m[d], judged[from].speed_kmh, judged[v - 1].speed_kmh,
                         judged[v].speed_kmh, judged[from].criterion});
      }
    }
  }
  return bands;
}

std::vector<SampleShare> sample_shares(const Envelope& envelope, const Words& words) {
  std::vector<SampleShare> shares;
  const std::size_t count =
      envelope.samples.empty() ? 0 : envelope.samples.front().permitted_speed_kmh.size();
  for (ToldShare& told : told_shares(count, words)) {
    SampleShare& share = shares.emplace_back(SampleShare{std::move(told.name), {}});
    for (const SampledSpeeds& samples : envelope.samples) {
      share.speeds_kmh.push_back(speed_passed_by(samples.permitted_speed_kmh, told.share));
    }
  }
  return shares;
}

std::optional<double> published_speed(const PublishedSpeeds& published, double distance_m) {
  std::optional<double> speed_kmh;
  for (const PublishedStep& step : published.steps) {
    if (distance_m >= step.distance_m) {
      speed_kmh = step.speed_kmh;
    }
  }
  return speed_kmh;
}

std::vector<std::string> comparison_with_published(const Envelope& envelope, const Words& words) {
  std::vector<std::string> lines;
  for (const PublishedSpeeds& published : envelope.published) {
    std::vector<bool> slower(envelope.spacings_m.size());
    for (std::size_t d = 0; d < slower.size(); ++d) {
      const auto speed = published_speed(published, envelope.spacings_m[d]);
      slower[d] = speed && envelope.permitted[d].speed_kmh < *speed;
    }
    const std::string where = stretches_words(envelope.spacings_m, slower, words);
    lines.push_back(
        where.empty()
            ? words.say("Type {}: at no distance is the permitted speed below the table's.",
                        name_of(published.type))
            : words.say("Type {}: the permitted speed is below the table's at {}.",
                        name_of(published.type), where));
  }
  return lines;
}

}  // namespace panup
