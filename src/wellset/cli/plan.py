"""``wellset plan``: how a student should stand with each club."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.talk import add_common, command, show

if TYPE_CHECKING:
    from wellset.bootstrap.plan import Asked
    from wellset.cli.talk import Commands


def add(commands: Commands) -> None:
    """Add the command."""
    plan = command(commands, "plan", help_="work out how a student should stand with each club")
    add_question(plan)
    add_common(plan)
    plan.set_defaults(run=_run)


def add_question(plan: argparse.ArgumentParser) -> None:
    """Add the options that say whom, which clubs, what shot and where a plan is for."""
    plan.add_argument("--height", metavar="LENGTH", help='barefoot, such as "178 cm", "5 ft 10 in"')
    plan.add_argument("--student", metavar="FILE", help="student file (YAML)")
    plan.add_argument("--bag", metavar="FILE", help="bag file (YAML); fourteen usual clubs without")
    plan.add_argument(
        "--club", action="append", metavar="NAME", help="one club; may be given several times"
    )
    plan.add_argument(
        "--hand", choices=("right", "left"), help="right unless the student file says"
    )
    plan.add_argument("--shot", metavar="NAME", help="kind of shot; follows from each club")
    plan.add_argument(
        "--slope",
        action="append",
        metavar="SLOPE",
        help='such as "uphill 6" or "ball above feet 8", in degrees; may be given twice',
    )
    plan.add_argument("--wind", choices=("none", "against", "with"), help="a wind one feels")
    plan.add_argument("--standards", metavar="FILE", help="your own standards (YAML)")


def asked(options: argparse.Namespace) -> Asked:
    """What those options say, by the names of :func:`wellset.bootstrap.plan.plan_request`."""
    return {
        "height": options.height,
        "student": options.student,
        "bag": options.bag,
        "clubs": options.club or (),
        "hand": options.hand,
        "shot": options.shot,
        "slopes": options.slope or (),
        "wind": options.wind,
        "standards": options.standards,
    }


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.plan import deliver_plan, plan_request

    bag = plan_request(**asked(options))
    path = None if options.json == "-" else options.json
    return show(deliver_plan(bag, folder=options.out, json_path=path, units=options.units), options)
