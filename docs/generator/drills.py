"""The drill document: every field, and the house drills by what they are for."""

from __future__ import annotations

from typing import Final

from docs.generator.text import page, table
from wellset.advise import ALL_FAULTS, Arms, BodyLimit, Level, Prop, Seen, house_book
from wellset.advise.drills_document import MOST_STEPS, SCHEMA

DRILLS_EXAMPLE: Final = """\
schema: wellset.drills/1
name: My drills
based_on: house
hidden: [eyes_shut]
drills:
  bench_bow:
    title: Bow to the bench
    purpose: A bench behind you says when your hips have gone far enough.
    first_for: [forward_bend low]
    also_for: [low_back_curve low]
    needs: [a bench or a low wall]
    steps:
      - Stand with a bench a shoe's length behind your knees.
      - Push your hips back until they touch it. Keep your back long.
      - Let your arms hang and stay for two breaths.
    feel: Your hips reach back for the bench before your chest goes down.
    check: Your hips touched first.
    dose: Two rounds of six, every day this week.
    caution: back
    level: easy
    not_with: {balance: cane_bow}
    drawings:
      - from: side
        arms: hang
        fault: yes
        props: {stool: Hips find the bench}
        caption: Hips back, chest over the feet.
"""
"""Shown on the page and read by a test."""


def drills_page() -> str:
    """Every field of a drill document."""
    fields = [
        ("`title`", "yes", "what you call it; shown wherever it is given"),
        ("`purpose`", "yes", "why it works, in a sentence or two"),
        ("`first_for`", "no", "findings that bring this drill up by themselves"),
        ("`also_for`", "no", "findings it helps too"),
        ("`needs`", "no", "what is wanted for it, up to six things"),
        ("`steps`", "yes", f"one to {MOST_STEPS}; three to six are easy to remember"),
        ("`feel`", "no", "what the student feels when it works"),
        ("`check`", "yes", "how the student sees it alone"),
        ("`dose`", "yes", "how often"),
        ("`caution`", "no", f"one of {', '.join(f'`{name}`' for name in house_book().cautions)}"),
        ("`level`", "no", ", ".join(f"`{level}`" for level in Level)),
        ("`easier`, `harder`", "no", "a variation"),
        (
            "`not_with`",
            "no",
            (
                "what makes it unfit for a student, and the drill to take instead: "
                + ", ".join(f"`{limit}`" for limit in BodyLimit)
            ),
        ),
        ("`drawings`", "no", "up to three; see below"),
    ]
    props = [
        (f"`{prop}`", prop.words, ", ".join(seen for seen in Seen if seen in prop.views))
        for prop in Prop
    ]
    book = house_book()
    served = []
    for fault in ALL_FAULTS:
        first, *also = book.serving(fault)
        served.append((f"`{fault.name}`", first.title, ", ".join(each.title for each in also)))
    return page(
        "Drill document",
        "Your drills, in YAML. Give it to `wellset drills` with `--drills FILE`; the lesson book "
        "keeps one of its own and writes it for you.",
        f"```yaml\n{DRILLS_EXAMPLE}```",
        "This adds a drill, which goes before the house's for the same finding, and hides one of "
        "the house's. A drill under the name of a house drill takes its place.",
        "## Fields of the document",
        table(
            ("field", "needed", "what"),
            [
                ("`schema`", "yes", f"`{SCHEMA}`"),
                ("`name`", "yes", "what you call it"),
                (
                    "`based_on`",
                    "no",
                    "`house`: all drills that come with Wellset, changed by what stands here",
                ),
                ("`hidden`", "no", "drills that are not offered; homework that names one keeps it"),
                ("`cautions`", "no", "sentences of your own that drills may name"),
                ("`drills`", "no", "drills by their ids: small letters, digits and underscores"),
            ],
        ),
        "## Fields of a drill",
        table(("field", "needed", "what"), fields),
        "A finding is a measure and a side of its window, such as `stance_width low`. Write for a "
        "reader of twelve: short sentences, and no numbers, since those are in the student's plan.",
        "## Fields of a drawing",
        "A drawing is never drawn by hand: it is the student's own plan, seen from one side, with "
        "props that are placed from its points. A wall touches the rearmost point of the body, a "
        "string hangs from the point it is tied to.",
        table(
            ("field", "what"),
            [
                ("`from`", ", ".join(f"`{seen}`" for seen in Seen)),
                ("`arms`", ", ".join(f"`{arms}` ({arms.words})" for arms in Arms)),
                ("`props`", 'what is placed, each with the words beside it; `""` for none'),
                (
                    "`fault`",
                    (
                        "`yes`: the finding's fault stands beside it, faint. It is solved for: the "
                        "same body with that one measure outside its window, all else moved as "
                        "little as can be"
                    ),
                ),
                ("`caption`", "a sentence below it"),
            ],
        ),
        table(("prop", "what", "from"), props),
        "## Which drill a finding brings up",
        "The first whose `first_for` names the finding: yours go before the house's. What the "
        "[student file](student-file.md) says of `limits`, `careful_with` and age is minded: an "
        "unfit drill gives way to the one it names, then to the next. Where none suits, none is "
        "given.",
        table(("finding", "house drill", "others that help"), served),
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/drills-file.md": drills_page()}
