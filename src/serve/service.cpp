#include "serve/service.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <exception>

#include "serve/case_requests.h"
#include "serve/day_requests.h"
#include "serve/form_requests.h"
#include "serve/job_requests.h"
#include "serve/library_requests.h"
#include "serve/page_files.h"
#include "serve/taking_in.h"

namespace panup {

namespace {

Reply reply_with_page(const ServiceRequest& request) {
  const auto file = page_file(request.path);
  if (!file) {
    return error_reply(status_not_found, "there is nothing under this path");
  }
  // Files under /assets/ have a digest of their bytes in their names.
  const bool settled = request.path.starts_with("/assets/");
  Reply reply{
      .type = std::string(file->type),
      .headers = {{"ETag", std::string(file->etag)},
                  {"Cache-Control", settled ? "public, max-age=31536000, immutable" : "no-cache"}}};
  if (request.if_none_match == file->etag) {
    reply.status = status_not_modified;
  } else {
    reply.body = file->bytes;
  }
  return reply;
}

CardPlace card_place_of(const Service& service) {
  return {.work = {.planning = service.place, .answers = service.answers},
          .cards = service.cards.get()};
}

/// What a path is answered with for one of its methods.
struct Endpoint {
  std::string_view method;
  std::string_view path;
  Reply (*reply)(Service&, const ServiceRequest&);
};

const std::vector<Endpoint>& endpoints() {
  static const std::vector<Endpoint> all{
      {"GET", "/api/library",
       [](Service& s, const ServiceRequest&) {
         return reply_to_library(s.place, s.cards ? s.cards->path : std::string());
       }},
      {"GET", "/api/library/file",
       [](Service& s, const ServiceRequest& r) { return reply_to_file(r.file, s.place); }},
      {"PUT", "/api/library/file",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_writing(r.body, s.place, s.writing);
       }},
      {"POST", "/api/take-in",
       [](Service& s, const ServiceRequest& r) { return reply_to_taking_in(r.body, s.place); }},
      {"GET", "/api/forms", [](Service&, const ServiceRequest&) { return reply_to_forms(); }},
      {"POST", "/api/form",
       [](Service& s, const ServiceRequest& r) { return reply_to_form(r.body, s.place); }},
      {"GET", "/api/day",
       [](Service& s, const ServiceRequest& r) { return reply_to_day(r.file, s.place); }},
      {"GET", "/api/practice", [](Service&, const ServiceRequest&) { return reply_to_cases(); }},
      {"POST", "/api/practice/plan",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_case_plan(r.body, s.place, r.stopped);
       }},
      {"POST", "/api/practice/why",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_case_why(r.body, s.place, r.stopped);
       }},
      {"POST", "/api/run/read",
       [](Service&, const ServiceRequest& r) { return reply_to_run_reading(r.body); }},
      {"POST", "/api/train/read",
       [](Service& s, const ServiceRequest& r) { return reply_to_train_reading(r.body, s.place); }},
      {"POST", "/api/train/write",
       [](Service& s, const ServiceRequest& r) { return reply_to_train_writing(r.body, s.place); }},
      {"POST", "/api/plan",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_plan(r.body, s.place, r.stopped);
       }},
      {"POST", "/api/why",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_why(r.body, s.place, r.stopped);
       }},
      {"POST", "/api/failure",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_failure(r.body, s.place, r.stopped);
       }},
      {"POST", "/api/card",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::card, s.place, r.stopped);
       }},
      {"POST", "/api/report",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::report, s.place, r.stopped);
       }},
      {"POST", "/api/report/html",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::report_for_browser, s.place, r.stopped);
       }},
      {"POST", "/api/issued",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_issued(r.body, card_place_of(s), r.stopped);
       }},
      {"POST", "/api/issue",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_issuing(r.body, card_place_of(s), r.stopped);
       }},
      {"POST", "/api/jobs",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_job(r.body, {.planning = s.place, .answers = s.answers}, *s.jobs);
       }},
      {"GET", "/api/jobs",
       [](Service& s, const ServiceRequest&) { return reply_to_jobs(*s.jobs); }},
  };
  return all;
}

const PageFile* api_document(std::string_view path) {
  const auto document = std::ranges::find(api_documents(), path, &PageFile::path);
  return document == api_documents().end() ? nullptr : &*document;
}

bool is_of_the_interface(std::string_view path) {
  return path == "/api" || path.starts_with("/api/");
}

/// The methods that a path takes; none where there is nothing under it.
std::vector<std::string_view> methods_of(std::string_view path) {
  if (!is_of_the_interface(path)) {
    return page_file(path) ? std::vector<std::string_view>{"GET", "HEAD"}
                           : std::vector<std::string_view>{};
  }
  if (!job_in_path(path, "/events").empty() || api_document(path) != nullptr ||
      card_in_path(path)) {
    return {"GET"};
  }
  if (!job_in_path(path).empty()) {
    return {"GET", "DELETE"};
  }
  std::vector<std::string_view> methods;
  for (const Endpoint& endpoint : endpoints()) {
    if (endpoint.path == path) {
      methods.push_back(endpoint.method);
    }
  }
  return methods;
}

Reply answer_unguarded(Service& service, const ServiceRequest& request) {
  if (auto refusal = refusal_of(request.method, request.path)) {
    return std::move(*refusal);
  }
  if (!is_of_the_interface(request.path)) {
    return reply_with_page(request);
  }
  if (const std::string id = job_in_path(request.path); !id.empty()) {
    return request.method == "GET" ? reply_to_job_state(id, *service.jobs)
                                   : reply_to_job_removal(id, *service.jobs);
  }
  if (const auto place = card_in_path(request.path)) {
    return reply_to_issued_card(*place, service.cards.get());
  }
  if (const PageFile* const document = api_document(request.path)) {
    return {.type = std::string(document->type), .body = std::string(document->bytes)};
  }
  const auto endpoint = std::ranges::find_if(endpoints(), [&](const Endpoint& one) {
    return one.path == request.path && one.method == request.method;
  });
  return endpoint->reply(service, request);
}

}  // namespace

std::string job_in_path(std::string_view path, std::string_view added) {
  constexpr std::string_view before = "/api/jobs/";
  if (!path.starts_with(before) || !path.ends_with(added) ||
      path.size() <= before.size() + added.size()) {
    return {};
  }
  const std::string_view id =
      path.substr(before.size(), path.size() - before.size() - added.size());
  return id.find('/') == std::string_view::npos ? std::string(id) : std::string();
}

bool takes_body(std::string_view method) { return method == "POST" || method == "PUT"; }

std::optional<Reply> refusal_of(std::string_view method, std::string_view path) {
  const std::vector<std::string_view> methods = methods_of(path);
  if (methods.empty()) {
    return error_reply(status_not_found, "there is nothing under this path");
  }
  if (std::ranges::find(methods, method) == methods.end()) {
    Reply reply = error_reply(status_wrong_method, "this path does not take this method");
    reply.headers.emplace_back("Allow", fmt::format("{}", fmt::join(methods, ", ")));
    return reply;
  }
  return std::nullopt;
}

Reply answer(Service& service, const ServiceRequest& request) {
  try {
    return answer_unguarded(service, request);
  } catch (const std::logic_error& error) {
    return error_reply(status_fault, std::string("a fault of the program: ") + error.what());
  } catch (const std::exception&) {
    return error_reply(status_fault, "a fault of the program");
  }
}

}  // namespace panup
