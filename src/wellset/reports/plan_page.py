"""A plan as one self-contained page, or as a part of another."""

from __future__ import annotations

from markupsafe import Markup

from wellset.reports.page import environment, report_css
from wellset.reports.plan_model import PlanReport


def plan_html(report: PlanReport, /, *, fragment: bool = False) -> str:
    """The page as text.

    Parameters
    ----------
    report : PlanReport
    fragment : bool
        Without head and foot, for a page that has its own.
    """
    env = environment()
    source, _, _ = env.loader.get_source(env, "plan.css")  # type: ignore[union-attr]
    return env.get_template("plan.html").render(
        report=report,
        css=Markup("" if fragment else report_css() + source),  # noqa: S704  # our own
        fragment=fragment,
    )


def plan_css() -> str:
    """The style sheet of a plan that is part of another page."""
    env = environment()
    source, _, _ = env.loader.get_source(env, "plan.css")  # type: ignore[union-attr]
    return source
