#include "sample_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "base/handed_out.h"
#include "stock/layout.h"

namespace panup {

namespace {

using Refs = std::vector<PantographRef>;

std::shared_ptr<const PantographType> pantograph_type(
    const std::string& name, PantographFrame frame, double head_width_mm, int strips,
    std::initializer_list<EnergySupply> supplies) {
  auto type = std::make_shared<PantographType>();
  type->id = name;
  std::ranges::replace(type->id, ' ', '-');
  type->name = name;
  type->head_width_mm = head_width_mm;
  type->strip_count = strips;
  type->strip_material = StripMaterial::plain_carbon;
  type->frame = frame;
  for (const EnergySupply supply : supplies) {
    type->supplies.push_back({supply, 70, 600, 80});
  }
  type->highest_speed_kmh = 160;
  type->automatic_dropping_device = true;
  type->working_height_min_m = 4.7;
  type->working_height_max_m = 6.4;
  type->raising_time_s = 6;
  type->lowering_time_s = 4;
  return type;
}

RoofPantograph on_roof(int number, double from_cab1_m, double length_m,
                       const std::shared_ptr<const PantographType>& type) {
  const bool near_cab1 = from_cab1_m < length_m / 2;
  return {.number = number,
          .from_cab1_m = from_cab1_m,
          .type = type,
          .knuckle_towards = near_cab1 ? Cab::cab2 : Cab::cab1,
          .nearer_cab = near_cab1 ? Cab::cab1 : Cab::cab2};
}

std::shared_ptr<const VehicleType> vehicle_type(const std::string& name, VehicleKind kind,
                                                double length_m,
                                                std::vector<RoofPantograph> pantographs) {
  auto type = std::make_shared<VehicleType>();
  type->id = name;
  type->name = "Class " + name;
  type->kind = kind;
  type->length_m = length_m;
  type->highest_speed_kmh = 140;
  type->systems = {all_energy_supplies.begin(), all_energy_supplies.end()};
  type->roof_line = true;
  type->pantographs = std::move(pantographs);
  return type;
}

/// A locomotive for three systems: the outer pair for AC 15 kV, the inner pair for the others.
std::shared_ptr<const VehicleType> three_system_locomotive() {
  const auto wide =
      pantograph_type("WQ 1950", PantographFrame::single_arm, 1950, 2, {EnergySupply::ac_15kv});
  const auto narrow = pantograph_type("NQ 1600", PantographFrame::single_arm, 1600, 2,
                                      {EnergySupply::ac_25kv, EnergySupply::dc_3kv});
  return vehicle_type("Q62", VehicleKind::locomotive, 19.6,
                      {on_roof(1, 3.0, 19.6, wide), on_roof(2, 5.6, 19.6, narrow),
                       on_roof(3, 14.0, 19.6, narrow), on_roof(4, 16.6, 19.6, wide)});
}

std::shared_ptr<const VehicleType> two_pantograph_locomotive(PantographFrame frame) {
  const auto type =
      pantograph_type(frame == PantographFrame::diamond ? "DQ 1950" : "WQ 1950", frame, 1950,
                      frame == PantographFrame::diamond ? 1 : 2, {EnergySupply::ac_15kv});
  return vehicle_type("Q41", VehicleKind::locomotive, 19.4,
                      {on_roof(1, 4.4, 19.4, type), on_roof(2, 15.0, 19.4, type)});
}

Vehicle vehicle(int number, const std::string& id, std::shared_ptr<const VehicleType> type,
                Cab leading = Cab::cab1) {
  Vehicle made;
  made.number = number;
  made.id = id;
  made.type = std::move(type);
  made.leading_cab = leading;
  return made;
}

LoadGroup load(const std::string& name, double length_m, LoadNature nature) {
  LoadGroup made;
  made.name = name;
  made.length_m = length_m;
  made.nature = nature;
  return made;
}

Train train_of(const std::string& id, const std::string& name, std::vector<ConsistItem> consist) {
  Train train;
  train.id = id;
  train.name = name;
  train.operated_by = "Ardel Haulage";
  train.invented = true;
  train.acceleration_ms2 = 0.15;
  train.braking_ms2 = 0.4;
  train.consist = std::move(consist);
  return train;
}

Finding finding(const std::string& rule, Strength strength, const std::string& text,
                Standing standing = Standing::practice,
                const std::string& source = "common practice, no published source") {
  return {rule, strength, standing, text, source};
}

const std::string regulation =
    "Commission Regulation (EU) No 1301/2014, table 4.2.13 (from memory)";

/// What a section has up, and how fast.
struct Shape {
  double from_km = 0;
  double to_km = 0;
  std::string name;
  EnergySupply supply{};
  Refs raised;
  double speed_kmh = 0;
  std::string lowered_for;
  bool iced = false;
  bool reversed = false;
};

std::optional<double> least_distance(const Train& train, const Shape& shape) {
  const Layout layout = lay_out(train, shape.reversed);
  std::optional<double> least;
  const PlacedPantograph* before = nullptr;
  for (const PlacedPantograph& placed : layout.pantographs) {
    if (std::ranges::find(shape.raised, placed.ref) == shape.raised.end()) {
      continue;
    }
    if (before != nullptr) {
      const double distance = placed.from_front_m - before->from_front_m;
      least = least ? std::min(*least, distance) : distance;
    }
    before = &placed;
  }
  return least;
}

void add_findings(PlannedSection& planned, const Shape& shape) {
  if (!shape.lowered_for.empty()) {
    planned.findings.push_back(finding("lowered-speed", Strength::speed_limit,
                                       "Pantographs are lowered at no more than 80 km/h."));
    planned.speed_rule = "lowered-speed";
    planned.speed_reason = "Pantographs are lowered at no more than 80 km/h";
    return;
  }
  for (const PantographRef ref : shape.raised) {
    planned.findings.push_back(
        finding("prescribed-position", Strength::prescribed,
                fmt::format("Locomotive {}, nearest ahead of a load to be protected: {} alone.",
                            ref.vehicle, to_string(ref))));
    planned.findings.back().kept = true;
  }
  if (shape.iced) {
    planned.speed_rule = "ice-speed";
    planned.speed_reason = fmt::format("Iced contact wire: {:g} km/h", shape.speed_kmh);
    planned.findings.push_back(
        finding("ice-speed", Strength::speed_limit, planned.speed_reason + "."));
  } else if (planned.least_distance_m) {
    planned.speed_rule = "design-spacing";
    planned.speed_reason = fmt::format(
        "{} raised, {:.1f} m apart at the closest: design type B is built for that up "
        "to {:g} km/h (35 m for more)",
        shape.raised.size(), *planned.least_distance_m, shape.speed_kmh);
    planned.findings.push_back(finding("design-spacing", Strength::speed_limit,
                                       planned.speed_reason + ".", Standing::published,
                                       regulation));
  } else {
    planned.speed_rule = "line-speed";
    planned.speed_reason = fmt::format("Line speed {:g} km/h", shape.speed_kmh);
    planned.findings.push_back(
        finding("line-speed", Strength::speed_limit, planned.speed_reason + "."));
  }
}

PlannedSection planned(const Train& train, const Shape& shape, std::size_t index) {
  PlannedSection made;
  made.from_km = shape.from_km;
  made.to_km = shape.to_km;
  made.section = index;
  made.supply = shape.supply;
  made.iced = shape.iced;
  made.reversed = shape.reversed;
  made.lowered_for = shape.lowered_for;
  made.raised = shape.raised;
  made.speed_kmh = made.permitted_speed_kmh = shape.speed_kmh;
  made.least_distance_m = least_distance(train, shape);
  add_findings(made, shape);
  return made;
}

/// The plan's frame: train, route and sections; no separation, stop, instruction or failure yet.
Plan plan_of(Train train, const std::vector<Shape>& shapes) {
  Plan plan;
  plan.train = std::move(train);
  plan.route.id = "ardel-norrin";
  plan.route.name = "Ardel – Norrin";
  plan.route.invented = true;
  for (const Shape& shape : shapes) {
    const std::size_t index = plan.route.sections.size();
    Section section;
    section.id = fmt::format("s{}", index + 1);
    section.name = shape.name;
    section.from_km = shape.from_km;
    section.to_km = shape.to_km;
    section.line_speed_kmh = 120;
    section.supply = shape.supply;
    plan.route.sections.push_back(section);
    plan.sections.push_back(planned(plan.train, shape, index));
  }
  plan.inputs = {{"train", "trains/sample.toml"}, {"route", "routes/ardel-norrin.toml"}};
  plan.rule_books = {"Working practice"};
  plan.running_time_s = 4980;
  plan.notes = {"Demo: train, route or conditions are invented.",
                "What the vehicles draw is neither stated nor computed: currents are not checked."};
  plan.cautions = cautions();
  plan.program_version = "0.1.0";
  return plan;
}

void order(Plan& plan, double km, Action action, Refs pantographs, const std::string& what,
           const std::string& landmark, const std::string& because,
           const std::string& if_not_possible, double speed_kmh = 0) {
  Instruction made;
  made.at_km = km;
  made.action = action;
  made.pantographs = std::move(pantographs);
  made.speed_kmh = speed_kmh;
  made.what = what;
  made.landmark = landmark;
  made.reason = because;
  made.text = fmt::format("{}{}{}{}{}.", what, landmark.empty() ? "" : ", ", landmark,
                          because.empty() ? "" : ": ", because);
  made.if_not_possible = if_not_possible;
  const bool one = std::ranges::all_of(made.pantographs, [&](PantographRef ref) {
    return ref.vehicle == made.pantographs.front().vehicle;
  });
  made.vehicle = !made.pantographs.empty() && one ? made.pantographs.front().vehicle : 0;
  plan.instructions.push_back(std::move(made));
}

const std::string stop_and_report = "Stop at the next suitable place and report.";

void order_speed(Plan& plan, double km, double speed_kmh, const std::string& because,
                 const std::string& landmark = {}) {
  order(plan, km, Action::speed, {}, fmt::format("{:g} km/h from here", speed_kmh), landmark,
        because, "", speed_kmh);
}

void order_lowered(Plan& plan, const std::string& name, double from_km, double to_km,
                   const Refs& up, const std::string& up_words, const Refs& then,
                   const std::string& then_words) {
  order(plan, from_km - 0.33, Action::breaker_off, {}, "Breaker off", "at " + name + " board 1",
        name, fmt::format("Stop before {}; do not enter it under power.", name));
  order(plan, from_km - 0.2, Action::lower, up, "Lower " + up_words, "at " + name + " board 2",
        name,
        fmt::format("Stop before {} with the breaker open; do not enter with a pantograph up.",
                    name));
  order(plan, to_km + 0.08, Action::raise, then, "Raise " + then_words, "at " + name + " board 3",
        name + " is behind",
        "Keep the breaker open, stop at the next suitable place, go by the fallback table.");
  order(plan, to_km + 0.2, Action::breaker_on, {}, "Breaker on", "", "", stop_and_report);
}

RoadFailure road_failure(double from_km, double to_km, PantographRef failed, Refs raised,
                         double speed_kmh, double reaches_km) {
  RoadFailure made;
  made.from_km = from_km;
  made.to_km = to_km;
  made.raised = std::move(raised);
  made.speed_kmh = speed_kmh;
  made.reaches_km = reaches_km;
  made.text = fmt::format("{} fails: stop, lower it, go on with what is left; {:g} km/h.",
                          to_string(failed), speed_kmh);
  return made;
}

RoadFailure stranded(double from_km, double to_km, PantographRef failed) {
  RoadFailure made;
  made.from_km = from_km;
  made.to_km = to_km;
  made.answer = Answer::none;
  made.reaches_km = from_km;
  made.stranded = true;
  made.text = fmt::format(
      "{} fails: no permitted configuration is left here; the train stands until help comes.",
      to_string(failed));
  return made;
}

/// The plan's sections with `failed` replaced by `instead` wherever it is up.
Contingency contingency(const Plan& plan, PantographRef failed,
                        std::optional<PantographRef> instead, double speed_kmh) {
  Contingency made;
  made.failed = failed;
  made.sections = plan.sections;
  made.running_time_s = plan.running_time_s + 300;
  const double end_km = plan.sections.back().to_km;
  for (PlannedSection& section : made.sections) {
    const auto up = std::ranges::find(section.raised, failed);
    if (up == section.raised.end()) {
      continue;
    }
    made.changes_the_plan = true;
    if (!instead) {
      section.answer = made.answer = Answer::none;
      section.raised.clear();
      section.exposed.clear();
      section.speed_kmh = section.permitted_speed_kmh = 0;
      section.speed_reason.clear();
      section.findings = {
          finding("one-each", Strength::forbidden, "No pantograph fit for the system is left.")};
      made.on_the_road.push_back(stranded(section.from_km, section.to_km, failed));
      continue;
    }
    *up = *instead;
    section.permitted_speed_kmh = std::min(section.permitted_speed_kmh, speed_kmh);
    section.speed_kmh = std::min(section.speed_kmh, speed_kmh);
    made.on_the_road.push_back(road_failure(section.from_km, section.to_km, failed, section.raised,
                                            section.speed_kmh, end_km));
  }
  return made;
}

SeparationSection separation(const std::string& name, SeparationKind kind, double from_km,
                             double length_m, bool lowered) {
  SeparationSection made;
  made.name = name;
  made.kind = kind;
  made.from_km = from_km;
  made.length_m = length_m;
  made.pantograph_lowered = lowered;
  return made;
}

Stop stop(const std::string& name, double at_km, bool reversal = false) {
  Stop made;
  made.name = name;
  made.at_km = at_km;
  made.reversal = reversal;
  return made;
}

void add_route_furniture(Plan& plan) {
  plan.route.separations = {
      separation("Hask system separation", SeparationKind::system, 19.88, 240, true),
      separation("Pell phase separation", SeparationKind::phase, 31.0, 150, false),
      separation("Quill system separation", SeparationKind::system, 60.0, 300, true)};
  LoweredStretch works;
  works.name = "Tarn gantry works";
  works.from_km = 70.0;
  works.to_km = 70.4;
  plan.route.lowered = {works};
  plan.route.stops = {stop("Mosk", 12.4), stop("Aldmoor", 45.0, true)};
}

}  // namespace

Plan sample_plan() {
  const auto type = three_system_locomotive();
  Vehicle second = vehicle(2, "Q62 109", type, Cab::cab2);
  second.defective = {4};
  Train train = train_of("t901", "Petrol to Norrin",
                         {vehicle(1, "Q62 104", type), second,
                          load("petrol in tank wagons", 388.8, LoadNature::dangerous)});
  const Refs outer{{1, 1}, {2, 4}};
  const Refs wide{{1, 1}, {2, 1}};
  const Refs narrow{{1, 2}, {2, 3}};
  const Refs pushing{{2, 2}, {1, 3}};
  using enum EnergySupply;
  Plan plan = plan_of(std::move(train), {{.from_km = 0,
                                          .to_km = 12.4,
                                          .name = "Ardel – Mosk",
                                          .supply = ac_15kv,
                                          .raised = wide,
                                          .speed_kmh = 60,
                                          .lowered_for = {},
                                          .iced = true},
                                         {.from_km = 12.4,
                                          .to_km = 19.88,
                                          .name = "Mosk – Hask",
                                          .supply = ac_15kv,
                                          .raised = wide,
                                          .speed_kmh = 80,
                                          .lowered_for = {}},
                                         {.from_km = 19.88,
                                          .to_km = 20.12,
                                          .name = "Hask – Pell",
                                          .supply = ac_15kv,
                                          .raised = {},
                                          .speed_kmh = 80,
                                          .lowered_for = "Hask system separation"},
                                         {.from_km = 20.12,
                                          .to_km = 45.0,
                                          .name = "Hask – Aldmoor",
                                          .supply = ac_25kv,
                                          .raised = narrow,
                                          .speed_kmh = 100,
                                          .lowered_for = {}},
                                         {.from_km = 45.0,
                                          .to_km = 60.0,
                                          .name = "Aldmoor – Quill",
                                          .supply = ac_25kv,
                                          .raised = pushing,
                                          .speed_kmh = 40,
                                          .lowered_for = {},
                                          .reversed = true},
                                         {.from_km = 60.0,
                                          .to_km = 60.3,
                                          .name = "Quill",
                                          .supply = ac_25kv,
                                          .raised = {},
                                          .speed_kmh = 40,
                                          .lowered_for = "Quill system separation",
                                          .reversed = true},
                                         {.from_km = 60.3,
                                          .to_km = 70.0,
                                          .name = "Quill – Tarn",
                                          .supply = dc_3kv,
                                          .raised = pushing,
                                          .speed_kmh = 40,
                                          .lowered_for = {},
                                          .reversed = true},
                                         {.from_km = 70.0,
                                          .to_km = 70.4,
                                          .name = "Tarn",
                                          .supply = dc_3kv,
                                          .raised = {},
                                          .speed_kmh = 40,
                                          .lowered_for = "Tarn gantry works",
                                          .reversed = true},
                                         {.from_km = 70.4,
                                          .to_km = 82.5,
                                          .name = "Tarn – Norrin",
                                          .supply = dc_3kv,
                                          .raised = pushing,
                                          .speed_kmh = 40,
                                          .lowered_for = {},
                                          .reversed = true}});
  add_route_furniture(plan);
  plan.conditions.name = "Iced morning";
  plan.conditions.invented = true;
  plan.conditions.temperature_c = -6;
  plan.conditions.wind_ms = 4;
  plan.conditions.ice = {{0, 12.4}};
  plan.rule_books = {"Working practice", "Ardel Haulage rules"};
  plan.overrides = {{"ice-speed", "Working practice", "Ardel Haulage rules", {"speed_kmh"}}};
  plan.sections[0].findings.insert(
      plan.sections[0].findings.begin(),
      finding("load-protection", Strength::last_resort,
              "The dangerous load (petrol in tank wagons) is exposed to dust and sparks of 2.1: "
              "permitted where nothing better is left."));
  plan.sections[0].findings.front().kept = false;
  plan.sections[0].exposed = {{"petrol in tank wagons", LoadNature::dangerous, {{2, 1}}}};

  order(plan, 0, Action::raise, wide, "Raise 1.1 and 2.1", "at Ardel", "",
        "Do not depart; go by the fallback table.");
  order(plan, 0, Action::breaker_on, {}, "Breaker on", "at Ardel", "", "Do not depart; report.");
  order_speed(plan, 0, 60, "Iced contact wire: 60 km/h", "at Ardel");
  order_speed(plan, 12.828, 80, "2 raised, 34.2 m apart at the closest", "428 m past Mosk");
  order_lowered(plan, "Hask system separation", 19.88, 20.12, wide, "1.1 and 2.1", narrow,
                "1.2 and 2.3");
  order_speed(plan, 20.548, 100, "2 raised, 28.0 m apart at the closest");
  order(plan, 30.7, Action::breaker_off, {}, "Breaker off", "at Pell breaker board",
        "Pell phase separation", "Stop before Pell phase separation; do not enter it under power.");
  order(plan, 31.6, Action::breaker_on, {}, "Breaker on", "at Pell breaker-on board",
        "Pell phase separation is behind", stop_and_report);
  order(plan, 45, Action::reverse, {}, "Reverse: the train leaves in the other direction",
        "at Aldmoor", "", "");
  order(plan, 45, Action::breaker_off, {}, "Breaker off", "at Aldmoor", "",
        "Do not lower under current; report.");
  order(plan, 45, Action::lower, narrow, "Lower 2.3 and 1.2", "at Aldmoor", "",
        "Use the emergency lowering; report.");
  order(plan, 45, Action::raise, pushing, "Raise 2.2 and 1.3", "at Aldmoor", "",
        "Do not depart; go by the fallback table.");
  order(plan, 45, Action::breaker_on, {}, "Breaker on", "at Aldmoor", "", "Do not depart; report.");
  order_speed(plan, 45, 40, "2 raised, 28.0 m apart at the closest", "at Aldmoor");
  order_lowered(plan, "Quill system separation", 60, 60.3, pushing, "2.2 and 1.3", pushing,
                "2.2 and 1.3");
  order_lowered(plan, "Tarn gantry works", 70, 70.4, pushing, "2.2 and 1.3", pushing,
                "2.2 and 1.3");

  plan.contingencies = {
      contingency(plan, {1, 1}, PantographRef{1, 4}, 60),
      contingency(plan, {1, 2}, PantographRef{1, 3}, 80),
      contingency(plan, {1, 3}, PantographRef{1, 2}, 40),
      contingency(plan, {1, 4}, PantographRef{1, 1}, 200),
      contingency(plan, {2, 1}, std::nullopt, 0),
      contingency(plan, {2, 2}, PantographRef{2, 3}, 40),
      contingency(plan, {2, 3}, PantographRef{2, 2}, 80),
  };
  return plan;
}

WhyNot sample_why_not() {
  WhyNot why;
  why.at_km = 14.5;
  why.asked = {{1, 4}, {2, 1}};
  why.planned = {{1, 1}, {2, 1}};
  why.answer = Answer::consent_needed;
  why.summary =
      "It needs the consent of the infrastructure manager. It loses at this step of the ladder: "
      "consent.";
  why.speed_kmh = 40;
  why.extra_time_s = 380;
  why.findings = {
      finding("design-spacing", Strength::consent_needed,
              "2 raised, 6.0 m apart at the closest: design type B is built for 8 m at least. "
              "Neither yes nor no: consent of the infrastructure manager, or evidence, is needed.",
              Standing::published, regulation),
      finding("load-protection", Strength::prescribed,
              "Locomotive 2 has its rear half clear for the dangerous load behind it (petrol in "
              "tank wagons).")};
  return why;
}

Plan plan_with_long_names() {
  Plan plan = sample_plan();
  const std::string word = "Überlandwindmühlenbrückenkopfbahnhofsvorplatz";
  const std::string words =
      "a name that nobody would paint on anything, with many words, and then some more of them";
  plan.train.name = "Train of " + words;
  plan.train.operated_by = word + " Haulage and " + words;
  plan.route.name = word + " – " + word + "-" + word + "-" + word + "-" + word;
  plan.conditions.name = words + " " + word;
  plan.rule_books = {words, word + word + word, words};
  for (ConsistItem& item : plan.train.consist) {
    if (auto* const made = std::get_if<Vehicle>(&item)) {
      made->id = word + " " + word;
    } else {
      std::get<LoadGroup>(item).name = words + ", " + word;
    }
  }
  for (Section& section : plan.route.sections) {
    section.name = word + " " + words;
  }
  for (Stop& stop : plan.route.stops) {
    stop.name = words + " " + word;
  }
  for (SeparationSection& separation : plan.route.separations) {
    separation.name = word + word + word + " " + words;
  }
  for (PlannedSection& section : plan.sections) {
    section.speed_reason += ", " + words + ", " + word + word;
    if (!section.lowered_for.empty()) {
      section.lowered_for = words + " " + word + section.lowered_for;
    }
  }
  for (Instruction& instruction : plan.instructions) {
    if (!instruction.landmark.empty()) {
      const std::string landmark = instruction.landmark + " " + word + word + " " + words;
      instruction.text.replace(instruction.text.find(instruction.landmark),
                               instruction.landmark.size(), landmark);
      instruction.landmark = landmark;
    }
    if (!instruction.if_not_possible.empty()) {
      instruction.if_not_possible += " " + words + word + word;
    }
  }
  plan.notes.push_back(words + " " + word + word + word + word);
  return plan;
}

Plan huge_plan() {
  const auto type = three_system_locomotive();
  Vehicle third = vehicle(3, "Q62 111", type, Cab::cab2);
  third.defective = {1, 2};
  Train train = train_of("t902", "Three ahead of ore",
                         {vehicle(1, "Q62 104", type), vehicle(2, "Q62 109", type), third,
                          load("ore in hopper wagons", 540, LoadNature::ordinary)});
  std::vector<Shape> shapes;
  for (int i = 0; i < 40; ++i) {
    const bool wide = i < 20;
    shapes.push_back({.from_km = i * 7.5,
                      .to_km = (i + 1) * 7.5,
                      .name = fmt::format("Stretch {} – Stretch {}", i, i + 1),
                      .supply = wide ? EnergySupply::ac_15kv : EnergySupply::ac_25kv,
                      .raised = wide ? Refs{{1, 1}, {2, 1}, {3, 4}} : Refs{{1, 2}, {2, 2}, {3, 3}},
                      .speed_kmh = i % 3 == 0 ? 60.0 : 60.0 + 10 * (i % 5),
                      .lowered_for = {}});
  }
  Plan plan = plan_of(std::move(train), shapes);
  for (int i = 0; i < 20; ++i) {
    const double km = 15.0 * i;
    order(plan, km, Action::breaker_off, {}, "Breaker off", fmt::format("at board {}", i), "",
          stop_and_report);
    order(plan, km + 1.2, Action::raise, {{1, 1}, {2, 1}, {3, 4}}, "Raise 1.1, 2.1 and 3.4",
          fmt::format("250 m past board {}", i), "a change of pantographs", stop_and_report);
    order_speed(plan, km + 7.5, 60.0 + i, "Three raised at this distance");
  }
  for (int vehicle_number = 1; vehicle_number <= 3; ++vehicle_number) {
    for (int number = 1; number <= 4; ++number) {
      const PantographRef failed{vehicle_number, number};
      plan.contingencies.push_back(
          contingency(plan, failed, PantographRef{vehicle_number, 5 - number}, 50));
    }
  }
  return plan;
}

Plan unit_pair_plan() {
  const auto pantograph =
      pantograph_type("UQ 1950", PantographFrame::single_arm, 1950, 2, {EnergySupply::ac_15kv});
  const auto type =
      vehicle_type("U75", VehicleKind::electric_unit, 74.8,
                   {on_roof(1, 16.0, 74.8, pantograph), on_roof(2, 58.8, 74.8, pantograph)});
  Plan plan =
      plan_of(train_of("t903", "Evening pair",
                       {vehicle(1, "U75 012", type, Cab::cab2), vehicle(2, "U75 031", type)}),
              {{.from_km = 0,
                .to_km = 31.2,
                .name = "Ardel – Mosk",
                .supply = EnergySupply::ac_15kv,
                .raised = {{1, 1}, {2, 2}},
                .speed_kmh = 160,
                .lowered_for = {}}});
  order(plan, 0, Action::raise, {{1, 1}, {2, 2}}, "Raise 1.1 and 2.2", "at Ardel", "",
        "Do not depart; go by the fallback table.");
  plan.contingencies = {contingency(plan, {1, 1}, PantographRef{1, 2}, 120),
                        contingency(plan, {1, 2}, PantographRef{1, 1}, 160),
                        contingency(plan, {2, 1}, PantographRef{2, 2}, 160),
                        contingency(plan, {2, 2}, PantographRef{2, 1}, 120)};
  return plan;
}

Plan diamond_plan() {
  const auto type = two_pantograph_locomotive(PantographFrame::diamond);
  Vehicle first = vehicle(1, "Q41 003", type);
  first.defective = {1};
  Vehicle third = vehicle(3, "Q41 099", type);
  third.dead_in_tow = true;
  Plan plan = plan_of(train_of("t904", "Old double",
                               {first, vehicle(2, "Q41 004", type), third,
                                load("coaches", 84, LoadNature::sensitive)}),
                      {{.from_km = 0,
                        .to_km = 18,
                        .name = "Ardel – Mosk",
                        .supply = EnergySupply::ac_15kv,
                        .raised = {{1, 2}},
                        .speed_kmh = 80,
                        .lowered_for = {}}});
  plan.train.invented = true;
  plan.sections[0].put_dead_in_tow = {2};
  Instruction tow;
  tow.action = Action::tow;
  tow.vehicle = 2;
  tow.what = "Vehicle 2 goes dead in tow, pantographs down";
  tow.landmark = "at Ardel";
  tow.text = tow.what + ", " + tow.landmark + ".";
  plan.instructions.push_back(tow);
  order(plan, 0, Action::raise, {{1, 2}}, "Raise 1.2", "at Ardel", "",
        "Do not depart; go by the fallback table.");
  plan.contingencies = {contingency(plan, {1, 2}, std::nullopt, 0)};
  return plan;
}

Plan banking_plan() {
  const auto type = two_pantograph_locomotive(PantographFrame::single_arm);
  Plan plan = plan_of(train_of("t905", "Petrol, banked",
                               {vehicle(1, "Q41 003", type),
                                load("petrol in tank wagons", 500, LoadNature::dangerous),
                                vehicle(2, "Q41 007", type, Cab::cab2)}),
                      {{.from_km = 0,
                        .to_km = 18,
                        .name = "Ardel – Mosk",
                        .supply = EnergySupply::ac_15kv,
                        .raised = {{1, 1}, {2, 1}},
                        .speed_kmh = 80,
                        .lowered_for = {}}});
  order(plan, 0, Action::raise, {{1, 1}, {2, 1}}, "Raise 1.1 and 2.1", "at Ardel", "",
        "Do not depart; go by the fallback table.");
  order_speed(plan, 0, 80, "Line speed 80 km/h", "at Ardel");
  plan.contingencies = {contingency(plan, {1, 1}, PantographRef{1, 2}, 80),
                        contingency(plan, {2, 1}, PantographRef{2, 2}, 80)};
  return plan;
}

Plan crowded_plan() {
  const auto type = two_pantograph_locomotive(PantographFrame::single_arm);
  std::vector<ConsistItem> consist;
  Refs raised;
  for (int number = 1; number <= 8; ++number) {
    consist.emplace_back(vehicle(number, fmt::format("Q41 {:03}", number), type));
    consist.emplace_back(load(fmt::format("wagons of lot {}", number), 60.0 + 20 * number,
                              number % 2 == 0 ? LoadNature::dangerous : LoadNature::ordinary));
    raised.push_back({number, 1});
    raised.push_back({number, 2});
  }
  return plan_of(train_of("t906", "All of them", std::move(consist)),
                 {{.from_km = 0,
                   .to_km = 18,
                   .name = "Ardel – Mosk",
                   .supply = EnergySupply::ac_15kv,
                   .raised = raised,
                   .speed_kmh = 80,
                   .lowered_for = {}}});
}

Plan consent_plan() {
  Plan plan = sample_plan();
  plan.answer = Answer::consent_needed;
  plan.sections[3].answer = Answer::consent_needed;
  plan.sections[3].findings.insert(
      plan.sections[3].findings.begin(),
      finding("design-spacing", Strength::consent_needed,
              "2 raised, 6.0 m apart at the closest: design type B is built for 8 m at least. "
              "Neither yes nor no: consent of the infrastructure manager, or evidence, is needed.",
              Standing::published, regulation));
  return plan;
}

Plan refused_plan() {
  Plan plan = consent_plan();
  plan.answer = Answer::none;
  PlannedSection& blocked = plan.sections.back();
  blocked.answer = Answer::none;
  blocked.raised.clear();
  blocked.least_distance_m.reset();
  blocked.speed_kmh = 0;
  blocked.speed_rule.clear();
  blocked.speed_reason.clear();
  blocked.findings = {finding("pantograph-head", Strength::forbidden,
                              "1.1: its head is 1950 mm wide; permitted: 1600 mm.",
                              Standing::published, regulation)};
  return plan;
}

RunPlan as_run(Plan plan) {
  RunPlan run;
  run.parts.push_back(std::move(plan));
  return run;
}

std::vector<std::pair<std::string, Plan>> all_sample_plans() {
  return {{"sample", sample_plan()},   {"long-names", plan_with_long_names()},
          {"huge", huge_plan()},       {"unit-pair", unit_pair_plan()},
          {"diamond", diamond_plan()}, {"banking", banking_plan()},
          {"crowded", crowded_plan()}, {"refused", refused_plan()},
          {"consent", consent_plan()}};
}

}  // namespace panup
