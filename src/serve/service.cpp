#include "serve/service.h"

#include <algorithm>
#include <exception>

#include "serve/job_requests.h"
#include "serve/library_requests.h"
#include "serve/page_files.h"

namespace panup {

namespace {

using Method = std::string_view;

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

struct Endpoint {
  Method method;
  std::string_view path;
  Reply (*reply)(Service&, const ServiceRequest&);
};

const std::vector<Endpoint>& endpoints() {
  static const std::vector<Endpoint> all{
      {"GET", "/api/library",
       [](Service& s, const ServiceRequest&) { return reply_to_library(s.place); }},
      {"GET", "/api/library/file",
       [](Service& s, const ServiceRequest& r) { return reply_to_file(r.file, s.place); }},
      {"PUT", "/api/library/file",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_writing(r.body, s.place, s.writing);
       }},
      {"POST", "/api/train/read",
       [](Service& s, const ServiceRequest& r) { return reply_to_train_reading(r.body, s.place); }},
      {"POST", "/api/train/write",
       [](Service& s, const ServiceRequest& r) { return reply_to_train_writing(r.body, s.place); }},
      {"POST", "/api/plan",
       [](Service& s, const ServiceRequest& r) { return reply_to_plan(r.body, s.place); }},
      {"POST", "/api/why",
       [](Service& s, const ServiceRequest& r) { return reply_to_why(r.body, s.place); }},
      {"POST", "/api/card",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::card, s.place);
       }},
      {"POST", "/api/report",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::report, s.place);
       }},
      {"POST", "/api/report/html",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_paper(r.body, Paper::report_for_browser, s.place);
       }},
      {"POST", "/api/jobs",
       [](Service& s, const ServiceRequest& r) {
         return reply_to_job(r.body, s.place, s.store, *s.jobs);
       }},
      {"GET", "/api/jobs",
       [](Service& s, const ServiceRequest&) { return reply_to_jobs(*s.jobs); }},
  };
  return all;
}

Reply wrong_method() {
  return error_reply(status_wrong_method, "this path does not take this method");
}

Reply answer_unguarded(Service& service, const ServiceRequest& request) {
  if (!request.path.starts_with("/api/") && request.path != "/api") {
    return request.method == "GET" || request.method == "HEAD"
               ? reply_with_page(request)
               : error_reply(status_wrong_method, "the page is only read");
  }
  if (const std::string id = job_in_path(request.path); !id.empty()) {
    return request.method == "GET"      ? reply_to_job_state(id, *service.jobs)
           : request.method == "DELETE" ? reply_to_job_removal(id, *service.jobs)
                                        : wrong_method();
  }
  const auto document = std::ranges::find(api_documents(), request.path, &PageFile::path);
  if (document != api_documents().end()) {
    return request.method == "GET"
               ? Reply{.type = std::string(document->type), .body = std::string(document->bytes)}
               : wrong_method();
  }
  bool known = false;
  for (const Endpoint& endpoint : endpoints()) {
    if (endpoint.path == request.path) {
      known = true;
      if (endpoint.method == request.method) {
        return endpoint.reply(service, request);
      }
    }
  }
  return known ? wrong_method() : error_reply(status_not_found, "there is nothing under this path");
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

Reply answer(Service& service, const ServiceRequest& request) {
  Reply reply;
  try {
    reply = answer_unguarded(service, request);
  } catch (const std::exception&) {
    reply = error_reply(status_fault, "a fault of the program");
  }
  if (request.path.starts_with("/api")) {
    reply.headers.emplace_back("Cache-Control", "no-store");
  }
  return reply;
}

}  // namespace panup
