#include <gtest/gtest.h>

#include <future>

#include "serve/events.h"
#include "serve/jobs.h"

namespace panup {
namespace {

using std::chrono::milliseconds;

JobReport wait_for_end(JobBoard& board, const std::string& id) {
  while (const auto report = board.report(id)) {
    if (is_over(report->state)) {
      return *report;
    }
    std::this_thread::sleep_for(milliseconds(1));
  }
  return {};
}

/// Work that goes on until it is stopped, and says when it has begun.
JobWork endless(std::promise<void>& begun) {
  return [&begun](JobProgress& progress, std::string&) -> std::optional<std::string> {
    begun.set_value();
    while (!progress.stopped()) {
      std::this_thread::sleep_for(milliseconds(1));
    }
    return std::nullopt;
  };
}

TEST(JobBoard, a_job_is_done_with_its_result_and_forgotten_when_it_is_removed) {
  JobBoard board({"a"});
  const auto id = board.submit("a", [](JobProgress& progress, std::string&) {
    progress.expect(2);
    progress.did(2);
    return std::optional<std::string>("5");
  });
  ASSERT_TRUE(id);
  const JobReport report = wait_for_end(board, *id);
  EXPECT_EQ(report.state, JobState::done);
  EXPECT_EQ(report.done, 2U);
  EXPECT_EQ(report.expected, 2U);
  EXPECT_EQ(*board.result(*id), "5");
  EXPECT_TRUE(board.remove(*id));
  EXPECT_FALSE(board.report(*id));
  EXPECT_FALSE(board.remove(*id));
}

TEST(JobBoard, a_job_fails_with_its_reason_also_where_it_throws) {
  JobBoard board({"a"});
  const auto refused = board.submit("a", [](JobProgress&, std::string& error) {
    error = "it cannot be";
    return std::optional<std::string>();
  });
  const auto thrown = board.submit(
      "a",
      [](JobProgress&, std::string&) -> std::optional<std::string> { throw std::bad_alloc(); });
  EXPECT_EQ(wait_for_end(board, *refused).error, "it cannot be");
  const JobReport report = wait_for_end(board, *thrown);
  EXPECT_EQ(report.state, JobState::failed);
  EXPECT_FALSE(report.error.empty());
}

TEST(JobBoard, jobs_of_one_kind_run_one_after_the_other_and_of_two_side_by_side) {
  JobBoard board({"a", "b"});
  std::promise<void> first;
  std::promise<void> other;
  std::promise<void> second;
  const auto a1 = board.submit("a", endless(first));
  const auto a2 = board.submit("a", endless(second));
  const auto b = board.submit("b", endless(other));
  first.get_future().wait();
  other.get_future().wait();
  EXPECT_EQ(board.report(*a2)->state, JobState::waiting);
  EXPECT_EQ(board.report(*b)->state, JobState::running);
  EXPECT_TRUE(board.remove(*a1));
  EXPECT_EQ(board.report(*a1)->state, JobState::cancelled);
  second.get_future().wait();
  board.stop();
  EXPECT_EQ(board.report(*a2)->state, JobState::cancelled);
  EXPECT_FALSE(board.submit("a", endless(first)));
}

TEST(JobBoard, what_a_cancelled_job_gives_after_all_is_dropped) {
  JobBoard board({"a"});
  std::promise<void> begun;
  const auto id = board.submit("a", [&begun](JobProgress& progress, std::string&) {
    begun.set_value();
    while (!progress.stopped()) {
      std::this_thread::sleep_for(milliseconds(1));
    }
    return std::optional<std::string>("late");
  });
  begun.get_future().wait();
  board.remove(*id);
  board.stop();
  EXPECT_EQ(board.report(*id)->state, JobState::cancelled);
  EXPECT_EQ(board.result(*id), nullptr);
}

TEST(JobBoard, whoever_wants_to_know_is_told_that_there_is_news) {
  JobBoard board({"a"});
  std::atomic<int> told = 0;
  board.tell([&told] { ++told; });
  const auto id = board.submit("a", [](JobProgress& progress, std::string&) {
    progress.did(1);
    return std::optional<std::string>("0");
  });
  wait_for_end(board, *id);
  board.stop();
  // Submitted, running, of one run done, over, and that all are stopped.
  EXPECT_GE(told, 5);
  board.tell({});
  const int before = told;
  board.remove(*id);
  EXPECT_EQ(told, before);
}

TEST(EventStream, tells_parts_by_their_names_once_and_the_state_when_it_changes) {
  JobBoard board({"a"});
  const auto id = board.submit("a", [](JobProgress& progress, std::string&) {
    progress.found({"cell", "{\"n\":1}"});
    progress.found({"point", "{\"n\":2}"});
    return std::optional<std::string>("0");
  });
  wait_for_end(board, *id);
  const auto told = [&](const std::string& last_event_id) {
    EventStream stream(board, *id, parts_seen_by(last_event_id));
    std::string text;
    while (!stream.ended()) {
      text += stream.next();
    }
    return text;
  };
  const std::string end = "event: end\ndata: {\"id\":\"" + *id +
                          "\",\"kind\":\"a\",\"state\":\"done\",\"done\":0,\"expected\":0}\n\n";
  const std::string first = "id: 1\nevent: cell\ndata: {\"n\":1}\n\n";
  const std::string second = "id: 2\nevent: point\ndata: {\"n\":2}\n\n";
  EXPECT_EQ(told(""), first + second + end);
  EXPECT_EQ(told("1"), second + end);
  EXPECT_EQ(told("2"), end);
  EXPECT_EQ(told("7"), end);
  EXPECT_EQ(told("1x"), first + second + end);
}

}  // namespace
}  // namespace panup
