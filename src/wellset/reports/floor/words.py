"""What the floor plan's first sheet says."""

from __future__ import annotations

from typing import Final

TITLE: Final = "Floor plan at true size"
PRINT: Final = (
    "Print at 100 % (“actual size”, not “fit to page”), on one side of the paper.",
    (
        "Measure the bar at the foot of any sheet: it must be 100 mm long. If it isn’t, the plan "
        "is wrong; print again."
    ),
    "Cut each sheet along the line at its left and at its top where it says so.",
    (
        "Lay it over the grey strip of its neighbour until the diamonds close, and tape it. Start "
        "at the top left, row by row."
    ),
    (
        "Lay the plan flat on level ground or on the floor, the arrow to the target. Hold down "
        "its corners. Push tees through it, or lay sticks on its lines."
    ),
)
PRINT_ONE: Final = (PRINT[0], PRINT[1], PRINT[4])
"""When all of it is on one sheet."""
TAPED: Final = (
    "Check it when it is taped: from the middle of the ball{which} to the line of the toes it must "
    "be {length}."
)
MARKS_ONE: Final = (
    (
        "shoe",
        "Shoes",
        "Yours, at true length. Lead is the side nearer the target, trail the other.",
    ),
    ("ball", "Ball", "Its middle is where the lines cross."),
    ("arrow", "Target line", "It points at the target."),
    ("dashed", "Ball line", "From the ball to you, square to the target line. Lay a stick on it."),
    ("bar", "Line of the toes", "Lay a stick on it; both toes touch it."),
    ("boxes", "Club heads", "Heads of this club side by side: the gap between your heels."),
    ("dotted", "Room", "The ball’s middle may lie anywhere inside before a check fails."),
)
"""How a mark looks, what it is, and what it is for."""
MARKS_BAG: Final = (
    (
        "shoe",
        "Lead shoe",
        "It stays for every club. Lead is the side nearer the target, trail the other.",
    ),
    ("caps", "Trail shoes", "Toe and heel for each club, named at the toe; the widest in full."),
    ("ball", "Balls", "Named beside it. Its middle is where the lines cross."),
    ("bar", "Line of the toes", "Lay a stick on it, pointing at the target; all toes touch it."),
    ("edge", "Lead heel’s edge", "The line up from its inner edge. Lay the other stick on it."),
    ("", "Shared marks", "Places that agree within 5 mm share one: nobody stands more exactly."),
    ("", "!", "A club that doesn’t fit this body: the best that could be found, not a target."),
)
CAUTIONS: Final = (
    (
        "Don’t hit balls while you stand on paper: it slips. Mark the places with tees or tape, "
        "take the paper away, then swing."
    ),
    "On a hard floor, tape the plan down and step on it in dry shoes, one foot at a time.",
    (
        "If a position hurts, stop, and see a doctor or a physiotherapist. Children lay it out "
        "with an adult."
    ),
)
