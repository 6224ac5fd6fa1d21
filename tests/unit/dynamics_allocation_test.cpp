#include <gtest/gtest.h>
#include <sys/resource.h>

#include <atomic>
#include <cstdlib>
#include <new>

#include "dynamics/contact_point.h"
#include "dynamics/simulate.h"
#include "dynamics_sample_line.h"

namespace {

std::atomic<long> allocations{0};

void* allocate(std::size_t size) {
  ++allocations;
  void* const memory = std::malloc(size == 0 ? 1 : size);
  if (memory == nullptr) {
    throw std::bad_alloc();
  }
  return memory;
}

void* allocate_aligned(std::size_t size, std::align_val_t alignment) {
  ++allocations;
  const auto align = static_cast<std::size_t>(alignment);
  void* const memory = std::aligned_alloc(align, (size + align - 1) / align * align);
  if (memory == nullptr) {
    throw std::bad_alloc();
  }
  return memory;
}

}  // namespace

void* operator new(std::size_t size) { return allocate(size); }
void* operator new[](std::size_t size) { return allocate(size); }
void* operator new(std::size_t size, std::align_val_t alignment) {
  return allocate_aligned(size, alignment);
}
void* operator new[](std::size_t size, std::align_val_t alignment) {
  return allocate_aligned(size, alignment);
}
void* operator new(std::size_t size, const std::nothrow_t& /*tag*/) noexcept {
  ++allocations;
  return std::malloc(size == 0 ? 1 : size);
}
void* operator new[](std::size_t size, const std::nothrow_t& /*tag*/) noexcept {
  ++allocations;
  return std::malloc(size == 0 ? 1 : size);
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t /*size*/) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t /*size*/) noexcept { std::free(memory); }
void operator delete(void* memory, const std::nothrow_t& /*tag*/) noexcept { std::free(memory); }
void operator delete[](void* memory, const std::nothrow_t& /*tag*/) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t /*alignment*/) noexcept { std::free(memory); }
void operator delete[](void* memory, std::align_val_t /*alignment*/) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t /*size*/, std::align_val_t /*alignment*/) noexcept {
  std::free(memory);
}
void operator delete[](void* memory, std::size_t /*size*/,
                       std::align_val_t /*alignment*/) noexcept {
  std::free(memory);
}

namespace panup {

namespace {

long allocations_of(const SimulationRequest& request) {
  const long before = allocations;
  const SimulationOutcome outcome = simulate(request);
  const long made = allocations - before;
  EXPECT_TRUE(outcome.result);
  if (outcome.result) {
    EXPECT_EQ(outcome.result->pantographs[0].contact_losses_ms.size(), 0U)
        << "each loss is a result of its own, and would count";
  }
  return made;
}

TEST(Allocation, IsCounted) {
  const long before = allocations;
  const std::vector<double> values(1000);
  EXPECT_EQ(allocations - before, 1);
  EXPECT_EQ(values.size(), 1000U);
}

TEST(Allocation, IsNotDoneInAStep) {
  ContactLine line = sample_line_with_everything(4);
  add_stitch_wires(line);
  line.mass_damping_per_s = 0.02;
  const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
  const LineGrid grid = std::get<LineGrid>(make_grid(line, state, 0.001, 0));
  LineMotion motion(grid, 0.001);
  const PantographModel model = sample_pantograph();
  ContactPoint contact(grid, state.contact_shape, model, 30, 40, 0.001);
  PantographMotion pantograph(model, 0.001, contact.height_of_start());
  const long before = allocations;
  double force = 0;
  for (int i = 0; i < 1000; ++i) {
    motion.advance(grid.length_m, true);
    pantograph.advance(80);
    force = contact.meet(motion, pantograph);
    force += motion.dissipation() + motion.energy().potential_j;
    motion.accept();
    pantograph.accept();
  }
  EXPECT_EQ(allocations - before, 0);
  EXPECT_GT(force, 0) << "the pantograph did press";
}

TEST(Allocation, IsNoMoreInARunOfTwiceTheSteps) {
  const ContactLine line = sample_line_with_everything(9);
  SimulationRequest request = sample_request(line, 120);
  request.settings.step_s = 0.001;
  const long fast = allocations_of(request);
  // Half the speed: the same stretch, and so the same results, in twice the steps.
  request.speed_kmh = 60;
  EXPECT_EQ(allocations_of(request), fast);
  // Half the step on the same grid of the contact wire. Without masses, which are as many as there
  // are nodes beside them.
  const ContactLine plain = sample_line(9);
  request = sample_request(plain, 120);
  request.settings.step_s = 0.001;
  request.settings.grid_m = 0.25;
  const long coarse = allocations_of(request);
  request.settings.step_s = 0.0005;
  EXPECT_EQ(allocations_of(request), coarse);
}

TEST(Memory, OfARunOverTwentyFourSpansStaysUnderFiftyMegabytes) {
#ifdef PANUP_SANITIZED
  GTEST_SKIP() << "the sanitizer's own memory would count";
#else
  const ContactLine line = sample_line(24);
  SimulationRequest request = sample_request(line, 160);
  ASSERT_TRUE(simulate(request).result);
  rusage usage{};
  ASSERT_EQ(getrusage(RUSAGE_SELF, &usage), 0);
  EXPECT_LT(usage.ru_maxrss, 50 * 1024) << "in kilobytes, of the whole program";
#endif
}

}  // namespace

}  // namespace panup
