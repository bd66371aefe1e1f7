"""Wiring of what is printed from a plan: the floor plan at true size, and the bag card."""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

from wellset.bootstrap import UNITS, _text
from wellset.bootstrap.plan import Asked, plan_request
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.reports.card import card_pdf
from wellset.reports.floor.contract import template_json_text
from wellset.reports.floor.sheets import FloorPlan, floor_pdf, floor_plan
from wellset.reports.floor.terminal import list_text
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.reports.sheet import PAPERS, Paper
from wellset.reports.writing import write_file
from wellset.services.bag_file import read_bag


@frozen(kw_only=True, eq=False)
class Template:
    """A floor plan, ready to be printed, listed or written.

    Parameters
    ----------
    plan : FloorPlan
    """

    plan: FloorPlan

    @property
    def listing(self) -> str:
        """The same without paper, as plain text."""
        return list_text(self.plan)

    @property
    def json_text(self) -> str:
        """As ``wellset.template/1``."""
        return template_json_text(self.plan)

    @property
    def sheets(self) -> int:
        """How many sheets of ground there are."""
        return len(self.plan.tiling.tiles)

    def write(self, path: str | Path, /) -> Path:
        """Write the PDF.

        Raises
        ------
        OutputError
            The file cannot be written.
        """
        return write_file(Path(path), floor_pdf(self.plan))

    def write_json(self, path: str | Path, /) -> Path:
        """Write the JSON.

        Raises
        ------
        OutputError
            The file cannot be written.
        """
        return write_file(Path(path), self.json_text)


def make_template(asked: Asked, /, *, ladder: bool, paper: str, units: str = "cm") -> Template:
    """The floor plan of one club, or the ladder of several.

    Parameters
    ----------
    asked : Asked
        Whom, which clubs, what shot and where it is for.
    ladder : bool
        All clubs on one plan.
    paper : str
        ``"a4"`` or ``"letter"``.
    units : str
        ``"cm"`` or ``"in"``.

    Raises
    ------
    InputError
        Without a club and without `ladder`, and as :func:`wellset.prescribe`.
    """
    if ladder:
        document, club = plan_document(plan_request(**asked)), None
    else:
        document, club = _one_club(asked)
    plan = floor_plan(document, paper=_known(paper), club=club, units=UNITS[units])
    return Template(plan=plan)


def _one_club(asked: Asked) -> tuple[PlanDocument, str]:
    """The plan of the club that was named, from the bag where one was given."""
    names = [find_club(name).name for name in asked.get("clubs", ())]
    bag = asked.get("bag")
    if bag is not None and not names:
        names = [entry.club.name for entry in read_bag(_text(str(bag), what="bag"), where=str(bag))]
    if len(names) != 1:
        raise InputError(
            "A floor plan shows one club or a whole bag",
            why=f"{len(names) or 'no'} clubs were named.",
            fix='Name one, such as --club "7-iron", or say --ladder for all of them.',
            where="--club",
        )
    if bag is not None:
        asked = {**asked, "clubs": ()}
    return plan_document(plan_request(**asked)), names[0]


def write_card(asked: Asked, path: str | Path, *, paper: str, units: str = "cm") -> Path:
    """Write the bag card of all clubs as a PDF of one page.

    Raises
    ------
    InputError
        As :func:`wellset.prescribe`.
    OutputError
        The file cannot be written.
    """
    document = plan_document(plan_request(**asked))
    return write_file(Path(path), card_pdf(document, _known(paper), units=UNITS[units]))


def _known(paper: str) -> Paper:
    if paper not in PAPERS:
        raise InputError(
            "The paper is not known", why=f"it is {paper!r}.", fix=f"Say {' or '.join(PAPERS)}."
        )
    return PAPERS[paper]
