#include "serve/events.h"

#include <fmt/format.h>

#include <charconv>

#include "serve/job_requests.h"

namespace panup {

namespace {

std::string event(std::string_view name, std::string_view data) {
  return fmt::format("event: {}\ndata: {}\n\n", name, data);
}

}  // namespace

std::string EventStream::next() {
  const auto news = jobs_.news(id_, parts_seen_);
  if (!news) {
    over_ = true;  // it was forgotten
    return {};
  }
  std::string text;
  if (news->version != version_) {
    for (const JobPart& part : news->parts) {
      text += fmt::format("id: {}\n", ++parts_seen_) + event(part.name, part.json);
    }
    over_ = is_over(news->report.state);
    const std::string told = compact_json(report_to_json(news->report));
    if (told != told_) {
      text += event(over_ ? "end" : "progress", told);
      told_ = told;
    }
    version_ = news->version;
  }
  return text;
}

std::size_t parts_seen_by(const std::string& last_event_id) {
  std::size_t seen = 0;
  const char* const end = last_event_id.data() + last_event_id.size();
  const auto [rest, error] = std::from_chars(last_event_id.data(), end, seen);
  return error == std::errc{} && rest == end ? seen : 0;
}

}  // namespace panup
