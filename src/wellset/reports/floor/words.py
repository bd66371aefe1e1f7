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
MARKS_ONE: Final = (
    ("Shoes", "Yours, from heel to toe at true length. Stand on them."),
    ("Lead, trail", "Lead is the side nearer the target, trail the other."),
    ("Ring with a cross", "The ball, and its middle."),
    ("Arrow", "The target line. It points at the target."),
    ("Dashed line", "From the ball to you, square to the target line. Lay a stick on it."),
    ("Bar at the toes", "The line of your toes. Lay a stick on it; both toes touch it."),
    ("Numbered boxes", "Heads of this club side by side: the gap between your heels."),
    ("Dotted box", "Room: the ball’s middle may lie anywhere in it before a check fails."),
)
MARKS_BAG: Final = (
    ("Lead shoe", "It stays for every club. Lead is the side nearer the target, trail the other."),
    ("Trail shoes", "Toe and heel for each club, named at the toe. The widest is drawn in full."),
    ("Rings with a cross", "The ball for each club, named beside it, and its middle."),
    ("Bar at the toes", "The line of your toes. Lay a stick on it, pointing at the target."),
    ("Dashed line", "Line of the lead heel’s inner edge. Lay the other stick on it."),
    ("Shared marks", "Places that agree within 5 mm share a mark; nobody stands more exactly."),
    ("!", "A club that doesn’t fit this body: the best that could be found, not a target."),
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
