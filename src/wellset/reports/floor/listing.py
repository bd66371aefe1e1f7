"""The same set-up as a list: where to put tees and sticks, without paper."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from wellset.reports.floor.amounts import counted, on_tape, room
from wellset.reports.floor.stance import Stance
from wellset.units import UnitSystem

SQUARE = "a sheet of paper or a book has a square corner"


@frozen(kw_only=True)
class Table:
    """Rows under heads, all of them words."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@frozen(kw_only=True)
class Listing:
    """How to lay it with two sticks and some tees.

    Parameters
    ----------
    before : tuple of str
        Steps before the table.
    table : Table
    after : tuple of str
        Steps after it.
    """

    before: tuple[str, ...]
    table: Table
    after: tuple[str, ...]


def listing(stances: Sequence[Stance], /, *, units: UnitSystem) -> Listing:
    """The list for one club, or for a bag."""
    if len(stances) == 1:
        return _one(stances[0], units=units)
    return _bag(stances, units=units)


def tees(stance: Stance, /) -> dict[str, tuple[float, float]]:
    """Where tees go: along the target line from the ball, and back from it, millimetre."""
    points = {
        "ball": stance.ball,
        "lead toe": stance.lead.toe,
        "lead heel": stance.lead.heel,
        "trail toe": stance.trail.toe,
        "trail heel": stance.trail.heel,
    }
    return {name: (stance.along(at), stance.back(at)) for name, at in points.items()}


def rooms(stance: Stance, units: UnitSystem, /) -> tuple[tuple[str, str], ...]:
    """How far each thing may be off before a check fails; what has no room says so."""
    flare = stance.room_flare_deg
    return (
        ("Feet apart", room(stance.room_gap, units) or "as drawn"),
        ("Ball toward the target or away", room(stance.room_along, units) or "as drawn"),
        ("Ball nearer or farther", room(stance.room_back, units) or "as drawn"),
        ("Lead foot turned out", f"± {flare:.0f}°" if flare >= 0.5 else "as drawn"),
    )


def _one(stance: Stance, *, units: UnitSystem) -> Listing:
    toes = on_tape(stance.ball_to_toes, units)
    shoes = f"{stance.ball_to_toes / stance.lead.length:.1f}"
    heads = counted(stance.gap / stance.head, "head")
    rows = tuple(
        (f"{name[0].upper()}{name[1:]}", _way(along, units), on_tape(max(back, 0.0), units))
        for name, (along, back) in tees(stance).items()
        if name != "ball"
    )
    return Listing(
        before=(
            "Push a tee in where the ball lies. Lay one stick through it, pointing at the target.",
            f"Lay the other stick from that tee straight to you, square to the first: {SQUARE}.",
            f"Along it, {toes} from the tee ({shoes} of your shoes), is the line of the toes.",
            "Push a tee in at the tip and the end of each shoe. Measure both ways from the ball:",
        ),
        table=Table(
            heads=("Tee", "Along the target line", "Back toward you"),
            rows=rows,
        ),
        after=(
            (
                f"Check the gap between the heels: {on_tape(stance.gap, units)}, {heads} of the "
                f"{stance.club} laid side by side."
            ),
            f"Check the ball: {_inside(stance, units)} the lead heel’s inner edge.",
        ),
    )


def _bag(stances: Sequence[Stance], *, units: UnitSystem) -> Listing:
    rows = tuple(
        (
            stance.club + ("" if stance.fits else " !"),
            on_tape(stance.gap, units),
            f"{stance.gap / stance.head:.1f}",
            on_tape(stance.target * (stance.lead.toe[0] - stance.trail.toe[0]), units),
            on_tape(stance.ball_inside, units),
            room(stance.room_along, units),
            on_tape(stance.ball_to_toes, units),
            room(stance.room_back, units),
            f"{stance.ball_to_toes / stance.lead.length:.1f}",
        )
        for stance in stances
    )
    flares = sorted({round(stance.lead.flare_deg) for stance in stances})
    flare = f"{flares[0]}°" if len(flares) == 1 else f"{flares[0]} to {flares[-1]}°"
    return Listing(
        before=(
            "Lay one stick along the toes, pointing at the target.",
            (f"Put the lead toe to it, the foot turned out {flare}. It stays there for every club. "
            "Push a tee in at the inner edge of the lead heel."),
            (f"Lay the other stick from that tee over the first one, square to it: {SQUARE}. Balls "
            "are measured from both sticks."),
        ),
        table=Table(
            heads=(
                "Club", "Gap", "In heads", "Toe to toe", "Ball in", "Room", "To toes", "Room",
                "In shoes",
            ),
            rows=rows,
        ),
        after=(
            (
                "Gap: between the heels, and in heads of that club laid side by side. Toe to toe: "
                "along the stick. Ball in: from the tee’s stick, away from the target. To toes: "
                "from the ball to the stick along the toes, and in shoe lengths. Room: how far it "
                "may be off."
            ),
        ),
    )  # fmt: skip


def _way(along: float, units: UnitSystem) -> str:
    if abs(along) < 0.5:
        return on_tape(0, units)
    way = "toward the target" if along > 0 else "away from the target"
    return f"{on_tape(abs(along), units)} {way}"


def _inside(stance: Stance, units: UnitSystem) -> str:
    side = "inside" if stance.ball_inside >= 0 else "outside"
    return f"{on_tape(abs(stance.ball_inside), units)} {side}"
