"""The demo trains on their routes, with what the trade expects of them.

Source of every row that names a case P1 to P27: common practice, no published source. "Derived":
follows from practice by reasoning. Speeds that follow from a distance rest on Regulation (EU)
No 1301/2014, table 4.2.13, from memory; ice speed and speed with a single contact strip are
invented in the demo's rule book.

Pantographs are named V.P: the vehicle counted from the front at departure, the pantograph counted
from cab 1; the front one comes first.
"""

from dataclasses import dataclass
from pathlib import Path

DEMO = Path(__file__).resolve().parents[2] / "data" / "demo"


@dataclass(frozen=True)
class At:
    """What is expected where the front of the train is at a chainage."""

    km: float
    raised: str
    speed_kmh: float | None = None
    says: str | None = None  # id of a rule that has a finding there
    put_dead: tuple[int, ...] = ()


@dataclass(frozen=True)
class Run:
    case: str
    words: str
    train: str
    route: str
    expected: tuple[At, ...]
    conditions: str = "fair-day"
    rules: tuple[str, ...] = ("nordvale-freight",)
    exit_status: int = 0

    def arguments(self, demo: Path = DEMO) -> list[str]:
        arguments = ["--train", str(demo / "trains" / f"{self.train}.toml")]
        arguments += ["--route", str(demo / "routes" / f"{self.route}.toml")]
        arguments += ["--conditions", str(demo / "conditions" / f"{self.conditions}.toml")]
        for book in self.rules:
            arguments += ["--rules", str(demo / "rules" / f"{book}.toml")]
        return arguments

    def __str__(self) -> str:
        return f"{self.case}: {self.train} on {self.route}, {self.conditions}"


def everywhere(kms: tuple[float, ...], raised: str, **further) -> tuple[At, ...]:
    return tuple(At(km, raised, **further) for km in kms)


TARNHOLT = (5, 13.7, 20, 30)  # own records; design type A, between two stops and on; design type C
KERROW = (5, 12)  # design type A; own records
VARN = (10, 35, 65)  # AC 15 kV; AC 25 kV; DC 3 kV

RUNS = (
    Run("P1", "one locomotive, two multi-strip pantographs, ordinary load: rear alone",
        "t01-containers", "harl-tarnholt", everywhere(TARNHOLT, "1.2", says="rear-alone")),
    Run("P2", "the other cab leading: again the rear one, the other pantograph",
        "t02-containers-cab-2", "harl-tarnholt", everywhere(TARNHOLT, "1.1")),
    Run("P3", "dangerous goods behind: front alone",
        "t03-petrol", "harl-tarnholt", everywhere(TARNHOLT, "1.1", says="load-protected")),
    Run("P3", "the same on a windy day",
        "t03-petrol", "harl-tarnholt", everywhere(TARNHOLT, "1.1", says="lateral-position"),
        conditions="windy-day"),
    Run("P4", "sensitive load (new cars on open wagons) behind: front alone",
        "t04-new-cars", "harl-tarnholt", everywhere(TARNHOLT, "1.1", says="load-protected")),
    Run("P5", "P1 with the rear one defective: front",
        "t05-containers-rear-defective", "harl-tarnholt", everywhere(TARNHOLT, "1.1")),
    Run("P6", "P3 with the front one defective: rear, permitted, and said so",
        "t06-petrol-front-defective", "harl-tarnholt",
        everywhere(TARNHOLT, "1.2", says="load-protected")),
    Run("P7", "one locomotive, iced contact wire: both, and the ice speed restriction applies",
        "t01-containers", "harl-tarnholt",
        everywhere(TARNHOLT, "1.1 1.2", speed_kmh=60, says="ice-speed"),
        conditions="hard-frost"),
    Run("P7", "both of them join no live zones in a long separation section, and that is said",
        "t01-containers", "harl-tarnholt", (At(20, "1.1 1.2", says="zones-joined"),),
        conditions="hard-frost"),
    Run("P7", "the same where a supplement lowers the ice speed",
        "t01-containers", "harl-tarnholt", everywhere(TARNHOLT, "1.1 1.2", speed_kmh=50),
        conditions="hard-frost", rules=("nordvale-freight", "winter-supplement")),
    Run("P8", "one locomotive, two single-strip pantographs: both",
        "t08-museum", "mosk-kerrow", everywhere(KERROW, "1.1 1.2")),
    Run("P9", "one single-strip pantograph: that one, at low speed",
        "t09-shunting", "mosk-kerrow",
        everywhere(KERROW, "1.1", speed_kmh=40, says="single-strip-speed")),
    Run("P10", "one locomotive with one multi-strip pantograph: that one",
        "t10-one-pantograph", "harl-tarnholt", everywhere(TARNHOLT, "1.1", speed_kmh=100)),
    Run("P11", "double heading: leading front, second rear",
        "t11-limestone-double", "harl-tarnholt", everywhere(TARNHOLT, "1.1 2.1", speed_kmh=100)),
    Run("P12", "double heading, dangerous load: both front; the shorter distance costs speed",
        "t12-petrol-double", "harl-tarnholt",
        (At(5, "1.1 2.2", 90), At(13.7, "1.1 2.2", 80), At(20, "1.1 2.2", 80),
         At(30, "1.1 2.2", 100))),
    Run("P13", "triple heading: first two front, last rear",
        "t13-limestone-triple", "harl-tarnholt", everywhere(TARNHOLT, "1.1 2.1 3.1")),
    Run("P14", "triple heading, dangerous load: all front",
        "t14-petrol-triple", "harl-tarnholt", everywhere(TARNHOLT, "1.1 2.1 3.2")),
    Run("P15", "the prescribed one of the first locomotive defective: its other one; speed follows",
        "t15-limestone-double-one-defective", "harl-tarnholt",
        (At(5, "1.2 2.2", 90), At(13.7, "1.2 2.2", 80), At(20, "1.2 2.2", 80),
         At(30, "1.2 2.2", 100))),
    Run("P16", "rear one directly before the next front one: only where nothing else is left",
        "t16-limestone-double-two-defective", "harl-tarnholt",
        everywhere(TARNHOLT, "1.2 2.1", says="facing-pair")),
    Run("P17", "the same with diamonds: forbidden; one locomotive goes dead in tow",
        "t17-diamonds-two-defective", "harl-tarnholt",
        everywhere(TARNHOLT, "1.2", says="put-dead", put_dead=(2,))),
    Run("P18", "double heading, single-strip: leading both, second rear only",
        "t18-museum-double", "mosk-kerrow", everywhere(KERROW, "1.1 1.2 2.2")),
    Run("P19", "two pairs: the energy supply system picks the pair, within it P1",
        "t19-multi-system", "harl-varn", (At(10, "1.4"), At(35, "1.3"), At(65, "1.3"))),
    Run("P19", "an electric unit; after the reversal the other one of the pair is the rear one",
        "t34-express-unit", "harl-port-selmo",
        (At(10, "1.4"), At(47, "1.4"), At(70, "1.3"), At(93, "1.3"), At(105, "1.2"),
         At(160, "1.2"))),
    Run("P20", "one pantograph fit for this system: that one, whichever end it is at",
        "t20-one-for-each-system", "harl-varn", (At(10, "1.1"), At(35, "1.2"), At(65, "1.2"))),
    Run("P21", "double heading of these: their only ones; the speed follows from the distance",
        "t21-one-for-each-system-double", "harl-varn",
        (At(10, "1.1 2.1", 80), At(35, "1.2 2.2", 120), At(65, "1.2 2.2", 120))),
    Run("P22", "among what else is equal the greatest distance wins",
        "t22-greatest-distance", "tarnholt-sollin", (At(5, "1.4 2.4"), At(18, "1.2 2.4", 100))),
    Run("P23", "light locomotive: as P1",
        "t23-light-locomotive", "harl-tarnholt", everywhere(TARNHOLT, "1.2")),
    Run("P24", "a banking locomotive behind a dangerous load: rear",
        "t24-petrol-banked", "harl-tarnholt", everywhere(TARNHOLT, "1.1 2.1")),
    Run("P25", "1.5 kV DC, current beyond what one head may carry: as many as it needs",
        "t25-ore", "quintra-dorsa",
        (At(5, "1.1 1.2", 80, "current-carried"), At(14, "1.1 1.2", 40), At(18, "1.1 1.2", 40))),
    Run("Derived", "no consent named where the line does not answer: neither yes nor no",
        "t26-ore-without-consent", "quintra-dorsa",
        (At(5, "1.1 1.2"), At(18, "1.1 1.2", 30, "design-spacing")), exit_status=1),
    Run("P26", "double heading, iced contact wire: leading both, second rear only",
        "t11-limestone-double", "harl-tarnholt", everywhere(TARNHOLT, "1.1 1.2 2.1", speed_kmh=60),
        conditions="hard-frost"),
    Run("P27", "locomotive dead in tow: none",
        "t27-dead-in-tow", "harl-tarnholt", everywhere(TARNHOLT, "1.2", says="dead-down")),
    Run("P11", "two electric units coupled, far apart: line speed",
        "t28-units", "harl-tarnholt",
        (At(5, "1.1 2.1", 140), At(20, "1.1 2.1", 120), At(30, "1.1 2.1", 100))),
    Run("P11", "double heading of a fast train: the speed that the tables give for the distance",
        "t37-night-double", "harl-tarnholt",
        (At(5, "1.1 2.1", 120), At(20, "1.1 2.1", 120), At(30, "1.1 2.1", 100))),
    Run("Derived", "a dangerous load on both sides of a locomotive in mid-train: front",
        "t31-mid-train", "harl-tarnholt", everywhere(TARNHOLT, "1.1 2.1")),
    Run("Derived", "mixed double heading, multi-strip first: F1 F2 R2",
        "t32-old-and-new", "mosk-kerrow", everywhere(KERROW, "1.1 2.1 2.2")),
    Run("Derived", "one of a single-strip pair defective: the other, at the speed of P9",
        "t33-museum-one-defective", "mosk-kerrow", everywhere(KERROW, "1.2", speed_kmh=40)),
    Run("P13", "three locomotives with two pairs each",
        "t30-triple-multi-system", "harl-varn",
        (At(10, "1.1 2.1 3.1"), At(35, "1.2 2.2 3.2"), At(65, "1.2 2.2 3.2"))),
    Run("P19", "two pairs for one system, of which the line admits one: within it P1",
        "t19-multi-system", "tarnholt-ness", (At(5, "1.4"), At(18, "1.3"))),
    Run("Hardest", "15 kV, F1 defective: R1 R2, the load's exposure said; banking: rear (P24). "
        "25 kV: both front (P12). One raised on the viaduct: the load protected, the others dead. "
        "After the reversal the former banker leads: front (P3); the two that bank: front, rear",
        "t29-petrol-to-port-selmo", "harl-port-selmo",
        (At(10, "1.4 2.4 3.1", 100, "load-protected"), At(26, "1.4 2.4 3.1", 80),
         At(47, "1.4 2.4 3.1", 100), At(55, "1.4 2.4 3.1", 80),
         At(70, "1.2 2.2 3.2", 100, "load-protected"), At(86, "1.2 2.2 3.2", 100),
         At(93, "1.2", 80, "put-dead", (2, 3)), At(97, "1.2 2.2 3.2", 100),
         At(105, "3.2 2.3 1.2", 100, "load-protected"), At(130, "3.2 2.3 1.2", 100),
         At(160, "3.2 2.3 1.2", 90), At(180, "3.2 2.3 1.2", 100))),
    Run("Hardest", "the same on an iced morning. F1 defective: R1 R2 (the load yields, P26); the "
        "one that banks: both. After the reversal the leading one: both; the two that bank: F1 R1 R2. "
        "Behind the ice at km 49.3 a change on the move would cost time and gain no speed",
        "t29-petrol-to-port-selmo", "harl-port-selmo",
        (At(10, "1.4 2.4 3.1", 100), At(35, "1.4 2.4 3.4 3.1", 60, "ice-speed"),
         At(47, "1.4 2.4 3.4 3.1", 60), At(55, "1.4 2.4 3.4 3.1", 80), At(70, "1.2 2.2 3.2", 100),
         At(105, "3.2 3.3 2.3 2.2 1.2", 60, "load-protected"),
         At(133, "3.2 3.3 2.3 2.2 1.2", 60), At(145, "3.2 2.3 1.2", 100)),
        conditions="iced-morning"),
    Run("No", "a locomotive for one system cannot leave its country: no permitted configuration",
        "t01-containers", "harl-port-selmo", (At(10, "1.2"), At(70, "")), exit_status=1),
    Run("No", "a pantograph that does not reach down to the wire of the tunnel",
        "t10-one-pantograph", "harl-port-selmo", (At(40, "1.1"), At(47, "")), exit_status=1),
    Run("No", "a line that requires a dropping device does not admit a pantograph without one",
        "t08-museum", "harl-port-selmo", (At(10, ""),), exit_status=1),
)
