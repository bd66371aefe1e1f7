"""Assessments as the lesson book keeps them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from markupsafe import Markup, escape

from wellset.figure.views import View
from wellset.reports.check_json import check_json_text
from wellset.reports.check_model import check_report
from wellset.reports.check_page import check_part
from wellset.reports.compose import compose
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.page import WholePicture, findings_html
from wellset.reports.paint import Pixels, jpeg_bytes, whole_picture
from wellset.reports.plan_json import plan_json_text
from wellset.reports.plan_model import plan_report
from wellset.reports.plan_page import plan_html
from wellset.services.assessment import Assessment
from wellset.services.check_plan import Check
from wellset.services.lesson_work import CheckWords, Documents, PlanWords
from wellset.services.plan_bag import BagPlan
from wellset.units import UnitSystem


class ReportWriter:
    """See :class:`wellset.services.lesson_work.Writer`."""

    def documents(
        self, assessment: Assessment, *, pictures: Mapping[View, str], inches: bool
    ) -> Documents:
        """The documents of an assessment."""
        units = UnitSystem.INCHES if inches else UnitSystem.CENTIMETRES
        images = _images(assessment, pictures=pictures)
        return Documents(
            assessment=assessment_json_text(assessment),
            findings=findings_html(compose(assessment, units=units), images=images),
        )

    def plan(self, bag: BagPlan, *, inches: bool) -> PlanWords:
        """A plan as its document and as part of a page."""
        units = UnitSystem.INCHES if inches else UnitSystem.CENTIMETRES
        return PlanWords(
            document=plan_json_text(bag),
            page=plan_html(plan_report(bag, units=units), fragment=True),
        )

    def comparison(self, check: Check, *, pictures: Mapping[View, str], inches: bool) -> CheckWords:
        """A comparison with a plan as its document and as part of a page."""
        units = UnitSystem.INCHES if inches else UnitSystem.CENTIMETRES
        images = _images(check.assessment, pictures=pictures)
        return CheckWords(
            document=check_json_text(check),
            page=check_part(check_report(check, units=units), images=images),
        )

    def preview(self, rgb: Pixels, /) -> bytes:
        """An upright picture as a file that every browser shows, without any tag."""
        return jpeg_bytes(whole_picture(rgb))


def _images(assessment: Assessment, *, pictures: Mapping[View, str]) -> Mapping[View, WholePicture]:
    """The pictures by their addresses, with the size of the whole ones."""
    return {
        view: WholePicture(
            address=pictures[view],
            width_px=picture.sighting.picture.width_px,
            height_px=picture.sighting.picture.height_px,
        )
        for view, picture in assessment.pictures.items()
        if view in pictures
    }


_FIGURE: Final = re.compile(r"<figure>\s*(<svg.*?</svg>)", re.DOTALL)


def drawn_pictures(findings: str, /, *, addresses: Mapping[str, str]) -> tuple[Markup, ...]:
    """The pictures of kept findings with what is drawn over them, without the words around.

    Parameters
    ----------
    findings : str
        As :meth:`ReportWriter.documents` made them.
    addresses : mapping of str to str
        Where each picture of the findings lies for whoever sees these.
    """
    return tuple(
        Markup(at_addresses(drawing, addresses))  # noqa: S704 - made by our own templates
        for drawing in _FIGURE.findall(findings)
    )


_DRILL: Final = re.compile(r"<!-- drill drawing -->(.*?)<!-- drill drawing ends -->", re.DOTALL)


def drawn_drill(findings: str, /) -> Markup:
    """The drawing of the first change's drill in kept findings; empty without one."""
    found = _DRILL.search(findings)
    return Markup(found[1] if found is not None else "")  # noqa: S704 - our own templates


def at_addresses(findings: str, addresses: Mapping[str, str], /) -> str:
    """Kept findings, their pictures at other addresses."""
    for kept, shown in addresses.items():
        findings = findings.replace(f'"{escape(kept)}"', f'"{escape(shown)}"')
    return findings
