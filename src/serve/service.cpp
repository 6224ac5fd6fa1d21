#include "serve/service.h"

#include <exception>

#include "serve/library_requests.h"
#include "serve/page.h"

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
  };
  return all;
}

Reply answer_unguarded(Service& service, const ServiceRequest& request) {
  if (!request.path.starts_with("/api/") && request.path != "/api") {
    return request.method == "GET" || request.method == "HEAD"
               ? reply_with_page(request)
               : error_reply(status_wrong_method, "the page is only read");
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
  return known ? error_reply(status_wrong_method, "this path does not take this method")
               : error_reply(status_not_found, "there is nothing under this path");
}

}  // namespace

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
