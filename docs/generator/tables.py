"""The tables that numbers rest on: bodies, clubs, noise, gap."""

# ruff: noqa: SLF001 - what a reading is expected to be is no part of the public build

from __future__ import annotations

from collections.abc import Mapping
from math import degrees
from typing import Any

from attrs import evolve

from docs.generator.text import page, table
from wellset.assess import from_build
from wellset.assess.gap import EDITION as GAP_EDITION
from wellset.assess.gap import gap_m
from wellset.body import (
    ANSUR_II,
    ANSUR_MEN,
    ANSUR_WOMEN,
    DE_LEVA,
    DEMPSTER_WINTER,
    DRILLIS_CONTINI,
    LENGTH_DEFINITIONS,
    TAPE_MEASURES,
    Build,
    MassModel,
    Sex,
    conventions,
    mass_model,
)
from wellset.equipment import (
    GREATEST_BALL_MASS,
    GREATEST_LENGTH,
    GREATEST_LIE,
    GREATEST_PUTTER_HEAD,
    GREATEST_WOOD_HEAD,
    LEAST_BALL_DIAMETER,
    LEAST_LENGTH,
    TYPICAL,
    TYPICAL_CLUBS,
    ClubKind,
    tee_height,
    typical_of_kind,
)
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.units import Record
from wellset.vision.noise import EDITION as NOISE_EDITION
from wellset.vision.noise import SD_FACTORS


def _cm(metres: float, places: int = 1) -> str:
    return f"{100 * metres:.{places}f}"


def _stems() -> list[str]:
    """Landmarks without their side, in order, each once."""
    plain = [n.removeprefix("lead_").removeprefix("trail_") for n in LANDMARKS]
    return list(dict.fromkeys(plain))


def _lengths() -> str:
    builds = {sex: Build(stature=1.75, sex=sex) for sex in (Sex.MEN, Sex.WOMEN, Sex.POOLED)}
    rows = [
        (
            f"`{name}`",
            ends,
            *(
                f"{_cm(build.length(name).value)} ± {_cm(build.length(name).sd)}"
                for build in builds.values()
            ),
        )
        for name, ends in LENGTH_DEFINITIONS.items()
    ]
    head = ("length", "from … to", *(f"{sex.words}, cm" for sex in builds))
    return table(head, rows)


def _masses(model: MassModel) -> str:
    rows = [
        (s.name, s.upper, s.lower, f"{100 * s.mass_fraction:.2f}", f"{100 * s.centre_fraction:.2f}")
        for s in model.segments
    ]
    head = ("segment", "upper end", "lower end", "mass, % (one side)", "centre, % from upper")
    return table(head, rows)


def _conventions() -> str:
    found: dict[str, Record] = {}
    for name, value in vars(conventions).items():
        if isinstance(value, Record):
            found[name.lower().replace("_", " ")] = value
        elif isinstance(value, Mapping) and name.isupper():
            for key, each in value.items():
                if isinstance(each, Record):
                    found[f"{name.lower().replace('_', ' ')}, {key}"] = each
    rows = [
        (
            name,
            _cm(r.value) + " cm" if r.unit == "m" else f"{r.value:g}",
            "" if r.sd is None else _cm(r.sd) + " cm" if r.unit == "m" else f"{r.sd:g}",
            r.source,
            r.mark.value,
        )
        for name, r in found.items()
    ]
    return table(("step", "value", "spread", "source or reason", "how known"), rows)


def _known() -> str:
    """What the estimate adds to a build: single values with a comment in the code."""
    rows = [
        ("two definitions of a joint, share of the segment", from_build.JOINT_CONVENTION, ""),
        ("two definitions of the hips' spacing", "", _cm(from_build.HIP_CONVENTION_M)),
        ("all joint-to-joint lengths together, share", from_build.COMMON_SCALE, ""),
        ("front of the trouser leg beyond half the thigh", "", _cm(from_build.THIGH_FRONT_M)),
        ("its spread", "", _cm(from_build.THIGH_FRONT_SD_M)),
        ("breadth that turned shoes take", "", _cm(from_build.SHOE_TURN_SD_M)),
        ("collar and hair over C7", "", _cm(from_build.NAPE_CLOTH.value)),
        ("its spread", "", _cm(from_build.NAPE_CLOTH.sd)),
        ("mass table, along the target line", "", _cm(from_build.MASS_OFFSET_SD_M[0])),
        ("mass table, across it", "", _cm(from_build.MASS_OFFSET_SD_M[1])),
    ]
    return table(("term", "share", "cm"), rows)


def body_page() -> str:
    """Tables of bodies."""
    editions = table(
        ("edition", "used for", "source"),
        [
            (str(ANSUR_II), "lengths (default)", ANSUR_II.source),
            (str(DRILLIS_CONTINI), "second opinion on lengths", DRILLIS_CONTINI.source),
            (str(DE_LEVA), "masses (default)", DE_LEVA.source),
            (str(DEMPSTER_WINTER), "second opinion on masses", DEMPSTER_WINTER.source),
        ],
    )
    parts = []
    for sex in (Sex.MEN, Sex.WOMEN):
        model = mass_model(sex)
        parts.append(f"### {model.edition.name}, {sex.value}\n\n{_masses(model)}")
    other = mass_model(Sex.POOLED, edition=DEMPSTER_WINTER.name)
    parts.append(f"### {other.edition.name}\n\n{_masses(other)}")
    return page(
        "Bodies: tables and editions",
        editions,
        f"ANSUR II: {ANSUR_MEN.population}; {ANSUR_WOMEN.population}. Nobody in it stands for "
        f"juniors "
        "or seniors. Where sex is unspecified, men and women are pooled and every spread is wider.",
        "## Lengths of a person of 175 cm",
        "Value ± standard uncertainty from stature alone, in centimetres. Tape measures narrow "
        "them.",
        _lengths(),
        "## Masses",
        "The whole-body centre of mass uses the row *trunk, mid-shoulder*, because landmarks "
        "stand at its ends ([why](../explanation/decisions/0008-mid-shoulder-trunk-row.md)).",
        *parts,
        "## From bone to joint, from foot to shoe",
        "Authors place the same joint up to 3 cm apart, so each step has a spread of its own that "
        "no tape narrows.",
        _conventions(),
        "## What the estimate adds",
        "The network learnt one opinion of where joints lie; the tables hold another.",
        _known(),
    )


def _club_rows() -> list[tuple[object, ...]]:
    typical = [*TYPICAL.values(), *(typical_of_kind(k) for k in ClubKind if k.value not in TYPICAL)]
    return [
        (
            each.name,
            each.kind.value,
            f"{each.length.value / 0.0254:.2f} ± {each.length.spread / 0.0254:.2f}",
            _cm(each.length.value),
            f"{degrees(each.lie.value):.2f} ± {degrees(each.lie.spread):.1f}",
            f"{1000 * each.head_length.value:.0f} ± {1000 * each.head_length.spread:.0f}",
            each.length.mark.value,
        )
        for each in typical
    ]


def _rules() -> str:
    rows = [
        ("ball, least diameter", f"{1000 * LEAST_BALL_DIAMETER.value:.2f} mm", LEAST_BALL_DIAMETER),
        ("ball, greatest mass", f"{1000 * GREATEST_BALL_MASS.value:.2f} g", GREATEST_BALL_MASS),
        ("club, least length", f"{_cm(LEAST_LENGTH.value)} cm", LEAST_LENGTH),
        ("club but putter, greatest length", f"{_cm(GREATEST_LENGTH.value)} cm", GREATEST_LENGTH),
        ("lie, greatest", f"{degrees(GREATEST_LIE.value):.0f}°", GREATEST_LIE),
        ("wood, heel to toe", f"{1000 * GREATEST_WOOD_HEAD.value:.0f} mm", GREATEST_WOOD_HEAD),
        (
            "putter, heel to toe",
            f"{1000 * GREATEST_PUTTER_HEAD.value:.0f} mm",
            GREATEST_PUTTER_HEAD,
        ),
    ]
    return table(
        ("limit", "value", "source", "how known"),
        [(name, shown, r.source, r.mark.value) for name, shown, r in rows],
    )


def tables_page() -> str:
    """Tables of equipment, of the network's noise and of the gap."""
    tees = [
        (kind.value, _cm(t.value), _cm(t.spread), t.source, t.mark.value)
        for kind in ClubKind
        for t in (tee_height(kind),)
    ]
    noise = [
        (
            stem,
            f"{SD_FACTORS[View.FACE_ON][stem]:.2f}",
            f"{SD_FACTORS[View.DOWN_THE_LINE][stem]:.2f}",
        )
        for stem in _stems()
    ]
    gaps = [(stem, f"{1000 * gap_m(name):.1f}") for stem in _stems() for name in (_one(stem),)]
    return page(
        "Tables and editions",
        "Every table that a number rests on, with its date. A result names the editions it used "
        "(`versions.tables` in [JSON](json.md)). Tables of bodies have [a page of their "
        "own](bodies.md).",
        "## Clubs",
        f"Edition {TYPICAL_CLUBS}. Source: {TYPICAL_CLUBS.source}. There is no industry standard "
        f"of "
        "length or lie, so a name alone promises half an inch and a degree. A kind stands for "
        "several clubs and is known less well. Lengths in inches and centimetres, lies in "
        "degrees, heads from heel to toe in millimetres; ± is a standard uncertainty.",
        table(
            ("club", "kind", "length, in", "cm", "lie", "head", "how the length is known"),
            _club_rows(),
        ),
        "A length that you type counts to 3 mm, a lie to half a degree, a head to 2 mm (common "
        "practice, no source).",
        "## Rules of equipment",
        "A club or ball beyond these is refused.",
        _rules(),
        "## Height of the ball",
        "Gap between the ground and the underside of the ball, in centimetres.",
        table(("club", "height", "spread", "what", "how known"), tees),
        "## Noise of the landmark network",
        f"Edition {NOISE_EDITION}. Factor on the spread that the network states for itself, by "
        f"view. "
        "Obtained on seven tuned-on rendered scenes, shrunk toward 0.87 because few observations "
        "stand behind each; held out, 95 % of the errors lie inside the 95 % ellipse.",
        table(("landmark", "face-on", "down-the-line"), noise),
        "## Gap between rendered and real people",
        f"Edition {GAP_EDITION}. Standard uncertainty for each coordinate and picture, in "
        f"millimetres "
        "at the golfer, added to the network's own. Stated, not measured: "
        "[why](../explanation/rendered-to-real.md).",
        table(("landmark", "mm"), gaps),
    )


def _one(stem: str) -> str:
    return stem if stem in LANDMARKS else f"lead_{stem}"


def _narrowed(build: Build, tape: str) -> str:
    """Lengths whose spread a reading brings below 95 %, with what is left of it."""
    reading: dict[str, Any] = {tape: build._expected(tape)}
    told = evolve(build, **reading)
    left = {n: told.length(n).sd / build.length(n).sd for n in LENGTH_DEFINITIONS}
    found = sorted((share, name) for name, share in left.items() if share < 0.95)
    return ", ".join(f"`{name}` to {100 * share:.0f} %" for share, name in found) or "hardly any"


def tape_rows() -> list[tuple[str, str, str, str]]:
    """Every tape measure: name, how, spread in centimetres, what it narrows."""
    build = Build(stature=1.75, sex=Sex.MEN)
    return [
        (f"`{name}`", f"{tape.words}: {tape.how}", _cm(tape.sd), _narrowed(build, name))
        for name, tape in TAPE_MEASURES.items()
    ]


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/bodies.md": body_page(), "reference/tables-and-editions.md": tables_page()}
