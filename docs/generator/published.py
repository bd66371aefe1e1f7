"""Plans and arcs beside figures that others published: tables and a figure, from the solver.

The parts stand between two comments inside pages written by hand. Values are worked out anew each
time, so a page can't say that the plan agrees where it doesn't any more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache
from typing import Final

from attrs import frozen

from docs.generator.published_svg import Bar, Panel, figure
from docs.generator.text import table
from wellset.body import Build, Sex
from wellset.prescribe import Plan
from wellset.reports.arc_words import arc_of_plan
from wellset.services.assessment import Student
from wellset.services.bag_file import usual_bag
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.student_scale import shoulder_breadth
from wellset.standards import default_standards

STATURE_M: Final = 1.80
"""About the height of tour players."""
PAGE: Final = "explanation/plan.md"
ARC_PAGE: Final = "explanation/swing-arc.md"
FIGURE: Final = "images/plan-beside-published.svg"
ROOM: Final = {"cm": 0.5, "°": 0.5}
"""How far beyond a published range still agrees with it: half of what it was rounded to."""


@frozen(kw_only=True)
class Published:
    """A published range, and the plan's value.

    Parameters
    ----------
    what, said : str
        As the table has them.
    club : str
    low, high : float
        What counts as agreeing.
    unit : str
    less, more : str
        What a plan outside it is called.
    """

    what: str
    said: str
    club: str
    low: float
    high: float
    unit: str = "cm"
    less: str = "nearer"
    more: str = "farther"

    def verdict(self, value: float) -> str:
        """Whether the plan agrees."""
        if self.low - ROOM[self.unit] <= value <= self.high + ROOM[self.unit]:
            return "agrees"
        return f"**{self.less if value < self.low else self.more}**"


# United States Golf Teachers Federation, The Importance of Ball Position and Stance Width: more
# than 100 tour players, averages and ranges in inches; no spreads. An average without a range is
# taken to agree within an inch either way (our judgement).
TOE_TO_BALL: Final = (
    Published(what="lead toe to ball, driver", said="81–91 cm, average 84–86", club="driver",
              low=81.3, high=91.4),
    Published(what="lead toe to ball, 5-iron", said="56–66 cm, average 61", club="5-iron",
              low=55.9, high=66.0),
    Published(what="lead toe to ball, 9-iron", said="46–56 cm", club="9-iron",
              low=45.7, high=55.9),
)  # fmt: skip
STANCE: Final = tuple(
    Published(what=f"stance, {club}", said=said, club=club, low=middle - 2.54, high=middle + 2.54,
              less="narrower", more="wider")
    for club, said, middle in (
        ("driver", "10 cm over shoulder width", 10.2),
        ("5-iron", "shoulder width", 0.0),
        ("9-iron", "10 cm under shoulder width", -10.2),
    )
)  # fmt: skip
BALL: Final = Published(what="ball, 9-iron behind driver", said="7 cm, at most 13", club="9-iron",
                        low=6.9 - 2.54, high=12.7, less="too little", more="too much")  # fmt: skip
TRUNK_TILT_DEG: Final = 28.0
"""McTeigue and others 1994 (from memory, unsure)."""
ATTACK: Final = (
    ("driver", -1.3, "−1.3°; women +3°"),
    ("3-wood", -2.9, "−2.9°; women −0.9°"),
    ("5-iron", -3.7, "−3.7°"),
    ("7-iron", -4.3, "−4.3°"),
    ("9-iron", -4.7, "−4.7°"),
    ("pitching wedge", -5.0, "−5.0°"),
)
"""Averages of tour players by radar, men: driver read second-hand, others from memory."""


@cache
def bag() -> Mapping[str, Plan]:
    """The usual bag of a man of :data:`STATURE_M`, without the putter."""
    request = PlanRequest(
        student=Student(build=Build(stature=STATURE_M, sex=Sex.MEN)),
        clubs=tuple(usual_bag()),
        standards=default_standards(),
    )
    return {p.club.name: p for p in plan_bag(request).plans if p.shot != "putt"}


def toe_to_ball(plan: Plan) -> float:
    """Tip of the lead shoe to the middle of the ball over the ground, centimetre."""
    between = plan.figure["lead_shoe_toe"] - plan.figure["ball"]
    return 100 * math.hypot(between[0], between[1])


def over_shoulders(plan: Plan) -> float:
    """Stance beyond the breadth of the shoulders, centimetre."""
    shoulders = shoulder_breadth(Build(stature=STATURE_M, sex=Sex.MEN)).metres
    return 100 * (plan.measures["stance_width"].value - shoulders)


def behind_the_driver(plan: Plan) -> float:
    """How much farther the ball lies from the lead ankle than the driver's, centimetre."""
    ankle = bag()["driver"].figure["lead_ankle"][0]
    return 100 * float(plan.figure["lead_ankle"][0] - ankle)


def attack(plan: Plan) -> float:
    """Attack angle of the model, degree."""
    arc = arc_of_plan(plan)
    if arc is None:
        raise ValueError(f"no arc for the {plan.club.name}")
    return math.degrees(arc.strike.attack)


def _cm(value: float, *, over: bool = False) -> str:
    if not over:
        return f"{value:.0f} cm"
    return f"{abs(value):.0f} cm {'over' if value > 0 else 'under'}"


def plan_rows() -> list[tuple[str, str, str, str]]:
    """What can be put in numbers: what, published, plan, whether they agree."""
    plans = bag()
    rows = []
    for one in TOE_TO_BALL:
        value = toe_to_ball(plans[one.club])
        rows.append((one.what, one.said, _cm(value), one.verdict(value)))
    for one in STANCE:
        value = over_shoulders(plans[one.club])
        rows.append((one.what, one.said, _cm(value, over=True), one.verdict(value)))
    value = behind_the_driver(plans[BALL.club])
    rows.append((BALL.what, BALL.said, _cm(value), BALL.verdict(value)))
    bends = {name: plan.measures["forward_bend"].value for name, plan in plans.items()}
    sides = {name: plan.measures["side_bend"].value for name, plan in plans.items()}
    for what, said, found, agrees in (
        ("bend, 7-iron against driver", "more with the iron (from memory)", bends,
         bends["7-iron"] > bends["driver"]),
        ("side bend, 7-iron against driver", "less with the iron (from memory)", sides,
         sides["7-iron"] < sides["driver"]),
    ):  # fmt: skip
        both = f"{found['7-iron']:.0f}° against {found['driver']:.0f}°"
        rows.append((what, said, both, "agrees" if agrees else "**disagrees**"))
    low, high = min(bends.values()), max(bends.values())
    around = "around it" if low <= TRUNK_TILT_DEG <= high else "**beside it**"
    rows.append(
        (
            "forward trunk tilt of tour players",
            f"about {TRUNK_TILT_DEG:.0f}° (from memory, unsure)",
            f"{low:.0f}° to {high:.0f}° by club",
            around,
        )
    )
    return rows


def plan_part() -> str:
    """The table and the figure of the plan's page."""
    image = (
        "![Six small charts of the plan's values by club beside published ranges and averages: "
        "distance to the ball, stance, ball, bend, side bend, attack angle](../" + FIGURE + ")"
    )
    return f"{image}\n\n{table(('what', 'published', 'plan', ''), plan_rows())}"


def arc_part() -> str:
    """The table of the swing arc's page, and the sizes that go with it."""
    plans = bag()
    rows = [
        (club, said, f"{attack(plans[club]):+.1f}°".replace("-", "−")) for club, _, said in ATTACK
    ]
    arcs = {name: arc_of_plan(plan) for name, plan in plans.items()}
    radii = [arc.arc.radius for arc in arcs.values() if arc is not None]
    iron = arcs["7-iron"]
    if iron is None:
        raise ValueError("no arc for the 7-iron")
    ball = next(m for m in iron.moved if m.what == "ball" and m.amount > 0)
    change = math.degrees(ball.strike.attack - iron.strike.attack)
    return (
        table(("club", "published attack", "model"), rows)
        + f"\n\nThe radius is {min(radii):.2f} to {max(radii):.2f} m by club. "
        f"A ball-width comes to {abs(change):.1f}° with a 7-iron."
    )


def drawing() -> str:
    """The figure: what the plan says of every club, and what others published."""
    plans = bag()
    clubs = tuple(plans)

    def line(value: Callable[[Plan], float]) -> tuple[float, ...]:
        return tuple(value(plan) for plan in plans.values())

    def bars(published: tuple[Published, ...]) -> tuple[Bar, ...]:
        return tuple(Bar(at=clubs.index(p.club), low=p.low, high=p.high) for p in published)

    averages = ((clubs.index("driver"), 85.1), (clubs.index("5-iron"), 61.0))
    panels = (
        Panel(title="Lead toe to ball, cm", values=line(toe_to_ball), bars=bars(TOE_TO_BALL),
              ticks=averages, low=40, high=100, step=10),
        Panel(title="Stance over shoulder width, cm", values=line(over_shoulders),
              ticks=tuple((clubs.index(p.club), (p.low + p.high) / 2) for p in STANCE),
              low=-15, high=15, step=5),
        Panel(title="Ball behind the driver’s, cm", values=line(behind_the_driver),
              ticks=((clubs.index("9-iron"), 6.9),), level=12.7, level_is="at most", low=0, high=15,
              step=5),
        Panel(title="Forward bend, °", values=line(_measure("forward_bend")),
              level=TRUNK_TILT_DEG, level_is="tour players, from memory", low=15, high=45, step=10),
        Panel(title="Side bend, °", values=line(_measure("side_bend")), low=0, high=12, step=4,
              level_is="published: less with a 7-iron than a driver"),
        Panel(title="Attack angle of the arc, °", values=line(attack),
              ticks=tuple((clubs.index(club), value) for club, value, _ in ATTACK),
              low=-6, high=2, step=2),
    )  # fmt: skip
    return figure(clubs, panels)


def _measure(name: str) -> Callable[[Plan], float]:
    return lambda plan: plan.measures[name].value


def parts() -> dict[tuple[str, str], str]:
    """Parts of pages written by hand, by page and the word in their comments."""
    return {(PAGE, "published"): plan_part(), (ARC_PAGE, "published"): arc_part()}


def files() -> dict[str, str]:
    """Files that are no pages."""
    return {FIGURE: drawing()}


def placed(page: str, /, *, word: str, part: str) -> str:
    """A page with one of its parts anew.

    Raises
    ------
    ValueError
        When it lacks the comments.
    """
    begin, end = f"<!-- {word}:start -->", f"<!-- {word}:end -->"
    before, found, rest = page.partition(begin)
    _, also, after = rest.partition(end)
    if not (found and also):
        raise ValueError(f"the page lacks {begin} or {end}")
    return f"{before}{begin}\n{part}\n{end}{after}"
