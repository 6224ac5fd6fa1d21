#include "bad_input_cases.h"
#include "files/read_conditions.h"
#include "files/read_consents.h"
#include "files/read_contact_line.h"
#include "files/read_day.h"
#include "files/read_defects.h"
#include "files/read_measured_record.h"
#include "files/read_network.h"
#include "files/read_pantograph_model.h"
#include "files/read_practice_cases.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_run.h"
#include "files/read_speed_table.h"
#include "files/read_stock.h"
#include "files/read_train.h"
#include "files/read_what_if.h"
#include "network_texts.h"

namespace panup {

namespace {

constexpr std::string_view right_stock = R"(kind = "stock"
invented = true

[[pantograph]]
id = "h1"
name = "Head one"
head_width_mm = 1950
contact_strips = 2
strip_material = "plain carbon"
frame = "single-arm"
highest_speed_kmh = 160
automatic_dropping_device = true
working_height_min_m = 4.8
working_height_max_m = 6.5
raising_time_s = 6
lowering_time_s = 4
[[pantograph.supply]]
system = "AC 15 kV 16.7 Hz"
static_force_n = 70
running_current_a = 700
standstill_current_a = 80

[[pantograph]]
id = "d1"
head_width_mm = 1450
contact_strips = 1
strip_material = "copper"
frame = "diamond"
highest_speed_kmh = 100
automatic_dropping_device = false
working_height_min_m = 4.9
working_height_max_m = 6.4
raising_time_s = 8
lowering_time_s = 5
[[pantograph.supply]]
system = "DC 3 kV"
static_force_n = 100
running_current_a = 1200
standstill_current_a = 200

[[vehicle]]
id = "k41"
type = "locomotive"
length_m = 19.4
highest_speed_kmh = 140
roof_line = true
[[vehicle.power]]
system = "AC 15 kV 16.7 Hz"
power_kw = 5600
greatest_current_a = 900
[[vehicle.pantograph]]
type = "h1"
from_cab1_m = 5.2
knuckle_towards = "cab 1"
[[vehicle.pantograph]]
type = "h1"
from_cab1_m = 14.2
knuckle_towards = "cab 2"

[[vehicle]]
id = "m10"
type = "locomotive"
length_m = 16
highest_speed_kmh = 80
roof_line = false
[[vehicle.power]]
system = "DC 3 kV"
power_kw = 1200
[[vehicle.pantograph]]
type = "d1"
from_cab1_m = 8
nearer_cab = "cab 2"

[[vehicle]]
id = "tank-20"
type = "wagon group"
length_m = 300
highest_speed_kmh = 90
)";

constexpr std::string_view right_train = R"(kind = "train"
id = "t1"
name = "Petrol to Varn"
operated_by = "Nordvale Freight"
stock = ["stock.toml"]
highest_speed_kmh = 100
acceleration_ms2 = 0.15
braking_ms2 = 0.4

[[consist]]
vehicle = "k41"
id = "K41 007"
leading_cab = 1
defective_pantographs = [2]
[[consist.current]]
system = "AC 15 kV 16.7 Hz"
running_a = 500
standstill_a = 20

[[consist]]
load = "petrol"
nature = "dangerous"
wagons = "tank-20"

[[consent]]
reference = "NV-1"
given_by = "Nordvale Infrastructure"
number = 2
distance_m = 7.5
speed_kmh = 60
sections = ["a1"]
)";

constexpr std::string_view right_route = R"(kind = "route"
id = "west-east"
name = "West - East"

[profile.upland]
system = "AC 15 kV 16.7 Hz"
line_speed_kmh = 120

[[section]]
id = "a1"
profile = "upland"
from_km = 0
to_km = 10
permitted_head_widths_mm = [1950]
permitted_strip_materials = ["plain carbon"]
automatic_dropping_device_required = true
design_type = "B"
greatest_train_current_a = 700
wire_height_min_m = 5.0
wire_height_max_m = 6.2
raised = [
  { number = 2, distance_m = 85, speed_kmh = 110 },
  { number = 1, speed_kmh = 120 },
]

[[section]]
id = "a2"
from_km = 10
to_km = 20
system = "DC 3 kV"
line_speed_kmh = 100

[[separation]]
name = "Border"
type = "system"
from_km = 9.9
length_m = 200
pantograph_lowered = true
breaker_off = true
length_is = "minimum between inner strips"

[[lowered]]
name = "Gantry"
from_km = 15
to_km = 15.3

[[stop]]
name = "Mosk"
at_km = 5

[[landmark]]
name = "Mosk home signal"
at_km = 4
change_on_the_move = true
)";

constexpr std::string_view right_conditions = R"(kind = "conditions"
name = "Iced morning"
temperature_c = -6
wind_ms = 4
ice = [
  { from_km = 4, to_km = 7 },
  { section = "a2" },
]
)";

constexpr std::string_view right_rule_book = R"(kind = "rule book"
name = "Nordvale rules"

[[rule]]
id = "ice-speed"
speed_kmh = 60
on = true

[[rule]]
id = "own-load-rule"
kind = "load-protection"
statement = "New cars are protected."
reason = "Carbon dust."
source = "invented"
standing = "operator"
strength = "prescribed"
natures = ["sensitive"]
reach_m = 200

[[rule]]
id = "supply-fit"
reason = "As the operator says it."

[[rule]]
id = "design-spacing"
spacing = [
  { up_to_kmh = 80, ac_m = [8, 8, 8], dc_3kv_m = [9, 9, 9], dc_1500v_m = [20, 8, 8] },
  { up_to_kmh = 120, ac_m = [20, 15, 15], dc_3kv_m = [20, 15, 15], dc_1500v_m = [35, 20, 15] },
  { ac_m = [200, 200, 200], dc_3kv_m = [200, 200, 200], dc_1500v_m = [200, 200, 35] },
]
)";

constexpr std::string_view right_contact_line = R"(kind = "contact line"
id = "nv-1"
name = "Line one"
source = "invented"
termination = "fixed"
reference_temperature_c = 12
mass_damping_per_s = 0.02
stiffness_damping_s = 0.0001
uplift_space_mm = 180
uplift_limited_by_design = true

[wire.contact]
number = 2
tension_n = 10000
mass_kg_per_m = 0.95
bending_stiffness_nm2 = 120
axial_stiffness_n = 11000000
thermal_expansion_per_k = 0.000017
diameter_mm = 12

[wire.messenger]
tension_n = 15000
mass_kg_per_m = 0.8
axial_stiffness_n = 9000000
thermal_expansion_per_k = 0.000017

[wire.stitch]
tension_n = 2500
mass_kg_per_m = 0.25

[support.plain]
encumbrance_m = 1.4
messenger_stiffness_n_per_m = 400000
messenger_mass_kg = 3
steady_arm_mass_kg = 1.5
steady_arm_stiffness_n_per_m = 200

[support.stitched]
like = "plain"
stitch_wire_length_m = 12

[droppers.even]
number = 6
first_m = 4
stiffness_n_per_m = 90000
mass_on_contact_wire_kg = 0.2
mass_on_messenger_kg = 0.3

[droppers.listed]
like = "even"
at_m = [7.5, 15, 22.5, 32.5]

[[span]]
length_m = 40
pre_sag_mm = 0
support = "plain"
droppers = "listed"

[[span]]
repeat = 3
length_m = 48
pre_sag_mm = 10
support = "stitched"
droppers = "even"

[[span]]
length_m = 6
pre_sag_mm = 0
support = "plain"
droppers = "none"
)";

constexpr std::string_view right_pantograph_model = R"(kind = "pantograph model"
id = "pm-1"
name = "Model one"
source = "invented"
static_force_n = 70
aerodynamic_knuckle_leading_n_per_kmh2 = 0.0004
aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0006
contact_stiffness_n_per_m = 60000

[[mass]]
mass_kg = 6
stiffness_n_per_m = 7000
damping_ns_per_m = 12

[[mass]]
mass_kg = 9
stiffness_n_per_m = 14000
damping_ns_per_m = 5

[[mass]]
mass_kg = 14
stiffness_n_per_m = 0
damping_ns_per_m = 70

[[static_force]]
system = "DC 3 kV"
static_force_n = 100

[[static_force]]
system = "DC 1.5 kV"
static_force_n = 110
)";

constexpr std::string_view right_consents = R"(kind = "consents"
name = "Consents of Nordvale Infrastructure"
invented = true

[[consent]]
reference = "NV-7"
given_by = "Nordvale Infrastructure"
number = 2
distance_m = 7.5
speed_kmh = 60
sections = ["a1", "z9"]
trains = ["t1", "t2"]
classes = ["k41"]
valid_from = 2031-05-01
valid_until = 2031-05-31

[[consent]]
reference = "NV-8"
given_by = "Nordvale Infrastructure"
rule = "coasting"
)";

constexpr std::string_view right_speed_table = R"(kind = "speed table"
id = "all-lines"
name = "All lines"
invented = true
contact_lines = ["l-1.toml", "../lines/l-2.toml"]
pantographs = ["p-1.toml", "p-2.toml"]
system = "AC 15 kV 16.7 Hz"
raised = [1, 2]
knuckle = "both"
up_to_kmh = 160
temperature_c = 5
samples = 20
seed = 3

[distances]
from_m = 12
to_m = 48
step_m = 6
)";

constexpr std::string_view right_day = R"(kind = "day"
name = "Tuesday"
date = 2031-05-13
invented = true
rules = ["rules.toml"]
conditions = "fair.toml"
consents = ["c-1.toml", "c-2.toml"]
defects = ["d.toml"]

[[train]]
number = "60412"
train = "t1.toml"
route = "r1.toml"
departure = 05:40:00
vehicles = ["K41 007", "K41 011"]

[[train]]
number = "Sp 7"
train = "t2.toml"
route = "r2.toml"
conditions = "iced.toml"
)";

constexpr std::string_view right_defects = R"(kind = "defects"
name = "Workshops"
invented = true

[[defect]]
vehicle = "K41 007"
pantograph = 2
since = 2031-05-11
until = 2031-05-16
still_possible = "at a stand"
reference = "ND-14"

[[defect]]
vehicle = "K41 008"
pantograph = 1
since = 2031-05-02
)";

constexpr std::string_view right_practice_cases = R"(kind = "practice cases"
name = "Two"
invented = true
source = { en = "practice", de = "Praxis" }
rules = ["numbers.toml"]

[[case]]
id = "one"
of = "P7"
title = { en = "Ice", de = "Eis" }
train = "t.toml"
route = "r.toml"
conditions = "ice.toml"
raised = "F1 R1"
pantographs = ["1.1", "1.2"]
answer = "permitted"
speed_kmh = 60
speed_rule = "ice-speed"
least_distance_m = 10
keeps = ["ice-two-leading"]

[[case]]
id = "two"
of = "P25"
title = { en = "Too much", de = "Zu viel" }
source = { en = "derived", de = "abgeleitet" }
train = "u.toml"
route = "r.toml"
raised = "none"
put_dead_in_tow = [2]
answer = "forbidden"
gives_up = ["current-carried"]
says = ["dead-down"]
)";

constexpr std::string_view right_what_if = R"(kind = "what if"
name = "All of it"
invented = true
conditions = "frost.toml"
rules = ["winter.toml", "later.toml"]
consents = ["c.toml"]
defects = ["d.toml"]

[[replace_file]]
file = "r.toml"
by = "r-2.toml"

[[replace_file]]
file = "t.toml"
by = "t-2.toml"

[[replace_class]]
class = "k41"
by = "l30"
)";

constexpr std::string_view right_measured_force = R"(kind = "measured force"
id = "runs-of-may"
name = "Runs of May"
invented = true
system = "AC 15 kV 16.7 Hz"
recorded_low_pass_hz = 20
sampled_every_m = 0.5
loss_at_or_below_n = 2
separator = ";"
decimal = ","
heading_line = 2
rows_from_line = 4
missing = ["-9999"]
contact_line = "../lines/nv-140.toml"
contact_line_at_m = 12000

[column]
chainage_km = "km"
force_n = "F"
speed_kmh = "v"
pantograph = "p"

[[run]]
id = "r1"
file = "r1.csv"

[[run]]
id = "r2"
file = "r2.csv"

[[pantograph]]
id = "front"
model = "../pantographs/hr-1950.toml"
knuckle = "leading"

[[pantograph]]
id = "rear"
behind_first_m = 30

[[tension_length]]
id = "A1"
from_m = 12000
span_m = 65
spans = 16

[[tension_length]]
id = "A2"
from_m = 13040
spans_m = [65, 60, 55]
)";

}  // namespace

std::string_view right_text(FileKind kind) {
  switch (kind) {
    case FileKind::stock:
      return right_stock;
    case FileKind::train:
      return right_train;
    case FileKind::route:
      return right_route;
    case FileKind::conditions:
      return right_conditions;
    case FileKind::rule_book:
      return right_rule_book;
    case FileKind::contact_line:
      return right_contact_line;
    case FileKind::pantograph_model:
      return right_pantograph_model;
    case FileKind::consents:
      return right_consents;
    case FileKind::measured_force:
      return right_measured_force;
    case FileKind::speed_table:
      return right_speed_table;
    case FileKind::day:
      return right_day;
    case FileKind::defects:
      return right_defects;
    case FileKind::what_if:
      return right_what_if;
    case FileKind::network:
      return right_network;
    case FileKind::run:
      return right_run;
    case FileKind::practice_cases:
      return right_practice_cases;
  }
  return {};
}

Diagnostics mistakes_of(FileKind kind, const std::string& text) {
  Diagnostics diagnostics;
  Diagnostics of_others;
  const SourceText source{.file = "f.toml", .text = text};
  switch (kind) {
    case FileKind::stock:
      read_stock({source}, diagnostics);
      break;
    case FileKind::train: {
      const Stock stock =
          read_stock({{.file = "stock.toml", .text = std::string(right_stock)}}, of_others);
      read_train(source, stock, diagnostics);
      break;
    }
    case FileKind::route:
      read_route(source, diagnostics);
      break;
    case FileKind::conditions: {
      const auto route =
          read_route({.file = "route.toml", .text = std::string(right_route)}, of_others);
      read_conditions(source, route ? &*route : nullptr, diagnostics);
      break;
    }
    case FileKind::rule_book:
      add_rule_book(built_in_rule_book(), source, std::nullopt, diagnostics);
      break;
    case FileKind::contact_line:
      read_contact_line(source, diagnostics);
      break;
    case FileKind::pantograph_model:
      read_pantograph_model(source, diagnostics);
      break;
    case FileKind::consents:
      read_consents(source, diagnostics);
      break;
    case FileKind::measured_force:
      read_measured_record(source, diagnostics);
      break;
    case FileKind::speed_table:
      read_speed_table(source, diagnostics);
      break;
    case FileKind::day:
      read_day(source, files_on_disk(), diagnostics);
      break;
    case FileKind::defects:
      read_defects(source, diagnostics);
      break;
    case FileKind::what_if:
      read_what_if(source, diagnostics);
      break;
    case FileKind::network:
      read_network(source, diagnostics);
      break;
    case FileKind::run:
      read_run(source, diagnostics);
      break;
    case FileKind::practice_cases:
      read_practice_cases(source, diagnostics);
      break;
  }
  diagnostics.insert(diagnostics.end(), of_others.begin(), of_others.end());
  sort_by_place(diagnostics);
  return diagnostics;
}

}  // namespace panup
