"""The page as text, the terminal's text, and the model they share."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import numpy as np
import pytest

from tests.support.reports import NAME, assessment, with_name
from wellset.advise import Verdict
from wellset.figure.views import View
from wellset.measures import MEASURES, Measured, NotMeasurable
from wellset.reports.compose import compose
from wellset.reports.page import page_html
from wellset.reports.terminal import GREATEST_WIDTH, LEAST_WIDTH, terminal_text
from wellset.services.assessment import Assessment
from wellset.units import UnitSystem

LEFT = "mid_iron_left_handed_weight_in_heels_01"
ONE_VIEW = (View.FACE_ON,)


def page(found: Assessment, *, units: UnitSystem = UnitSystem.CENTIMETRES) -> str:
    pixels = {view: picture.rgb for view, picture in found.pictures.items()}
    return page_html(compose(found, units=units), pixels=pixels)


class Outline(HTMLParser):
    """Headings, pictures, tables and text of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.levels: list[int] = []
        self.images: list[dict[str, str | None]] = []
        self.tags: list[str] = []
        self.ids: list[str] = []
        self.text: list[str] = []
        self.language = ""
        self._hidden = 0
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        known = dict(attrs)
        self.tags.append(tag)
        if known.get("id"):
            self.ids.append(str(known["id"]))
        if tag == "html":
            self.language = known.get("lang") or ""
        if re.fullmatch(r"h[1-6]", tag):
            self.levels.append(int(tag[1]))
        if tag in {"svg", "img"}:
            self.images.append(known)
        self._hidden += tag in {"style", "title"}

    def handle_endtag(self, tag: str) -> None:
        self._hidden -= tag in {"style", "title"}

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.text.append(data)


PAGES = [
    pytest.param(assessment(), id="two pictures"),
    pytest.param(assessment(LEFT), id="left-hander"),
    pytest.param(assessment(views=ONE_VIEW), id="one picture"),
]


@pytest.mark.parametrize("found", PAGES)
def test_the_page_reaches_for_nothing_outside_itself(found: Assessment) -> None:
    text = page(found)
    bare = text.replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert not re.search(r"https?:|//[a-z]|@import|url\(", re.sub(r"base64,[^\"]+", "", bare))
    sources = re.findall(r'(?:src|href)="([^"#][^"]*)"', text)
    assert all(source.startswith("data:image/jpeg;base64,") for source in sources)
    assert len(sources) == len(found.pictures)
    assert "<script" not in text


@pytest.mark.parametrize("found", PAGES)
def test_every_measure_is_found_on_the_page_once(found: Assessment) -> None:
    ids = Outline(page(found)).ids
    shown = [i.split("-", 1)[1] for i in ids if i.split("-")[0] in {"check", "measure", "missing"}]
    shown = [i for i in shown if i in MEASURES]
    assert sorted(shown) == sorted(MEASURES)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("found", PAGES)
def test_headings_descend_one_level_at_a_time_and_pictures_have_words(found: Assessment) -> None:
    outline = Outline(page(found))
    assert outline.language == "en-GB"
    assert outline.levels[0] == 1
    assert outline.levels.count(1) == 1
    steps = zip(outline.levels[:-1], outline.levels[1:], strict=True)
    assert all(below <= above + 1 for above, below in steps)
    for image in outline.images:
        assert image.get("aria-label") or image.get("aria-hidden") == "true"


def test_a_name_with_marks_is_shown_and_not_obeyed() -> None:
    text = page(assessment())
    assert NAME not in text
    assert "Sam &lt;b&gt;&amp;amp; Co" in text
    hostile = page(with_name(assessment(), '"><script>alert(1)</script>'))
    assert "<script" not in hostile


@pytest.mark.parametrize("found", PAGES)
def test_no_side_of_the_body_is_called_left_or_right(found: Assessment) -> None:
    # a phone is moved to the left or right of whoever holds it
    text = re.sub(r'(?s)<section aria-labelledby="cameras-title">.*?</section>', "", page(found))
    words = " ".join(Outline(text).text).lower()
    assert not re.search(r"\b(left|right)\b(?!-handed)", words)


def test_verdicts_are_words_with_shapes_and_not_colours_alone() -> None:
    found = assessment(LEFT)
    text = page(found)
    for finding in found.findings:
        if finding.measured:
            row = text[text.index(f'id="check-{finding.measure}"') :].split("</tr>")[0]
            assert f"<b>{finding.verdict.value}</b>" in row
            assert 'class="sign"' in row


def test_the_model_says_what_the_assessment_says() -> None:
    found = assessment()
    report = compose(found)
    assert [r.measure for r in report.rows] == [f.measure for f in found.findings if f.measured]
    for verdict in Verdict:
        judged = sum(f.verdict is verdict and f.measured for f in found.findings)
        assert report.count(verdict.value) == judged
        assert f"{judged} {verdict.value}" in report.summary
    told = [item.title for remedy in report.remedies for item in remedy.items]
    assert sorted(told) == sorted(row.title for row in report.undecided)


def test_a_scale_puts_interval_and_window_in_their_true_order() -> None:
    found = assessment()
    for row in compose(found).rows:
        result, scale = found.measures[row.measure], row.scale
        window = next(f.window for f in found.findings if f.measure == row.measure)
        assert isinstance(result, Measured)
        assert scale is not None
        assert 0 < scale.low < scale.value < scale.high < 1
        # places on the scale are rounded to 1e-4, so a value may fall on the very limit
        for limit, place in ((window.low, scale.window_low), (window.high, scale.window_high)):
            if limit is not None and place is not None:
                side = np.sign(scale.value - place)
                assert side in {0, np.sign(result.value - limit)}
                assert side or abs(result.value - limit) < 0.1 * result.sd


def test_shares_of_the_error_budget_name_the_largest_source() -> None:
    found = assessment()
    for row in compose(found).sources:
        result = found.measures[row.measure]
        assert isinstance(result, Measured)
        largest = max(result.budget, key=lambda name: result.budget[name])
        assert row.main.startswith(largest)


def test_inches_change_lengths_and_leave_angles() -> None:
    metric, imperial = (compose(assessment(), units=u) for u in UnitSystem)
    for one, other in zip(metric.rows, imperial.rows, strict=True):
        length = MEASURES[one.measure].unit.value == "m"
        assert one.value.endswith("cm") == length
        assert other.value.endswith("in") == length


@pytest.mark.parametrize("width", [20, 48, 64, 80, 100, 240])
@pytest.mark.parametrize("found", PAGES)
def test_the_terminals_text_keeps_to_its_width_and_names_everything(
    found: Assessment, width: int
) -> None:
    report = compose(found)
    text = terminal_text(report, width=width)
    limit = min(max(width, LEAST_WIDTH), GREATEST_WIDTH)
    assert max(len(line) for line in text.splitlines()) <= limit
    assert "\x1b" not in text
    together = " ".join(text.split())
    for id_, result in found.measures.items():
        if isinstance(result, NotMeasurable) or any(f.measure == id_ for f in found.findings):
            assert MEASURES[id_].title in together


def test_page_and_terminal_give_the_same_numbers() -> None:
    report = compose(assessment())
    html, text = page(assessment()), terminal_text(report, width=100)
    for row in report.rows:
        assert row.value in html
        assert row.value.replace("\N{NO-BREAK SPACE}", " ") in text


def test_what_would_decide_is_told_with_both_ranges_and_the_chance() -> None:
    found = assessment("driver_neutral_01")
    told = {item.measure: item.outlook for r in compose(found).remedies for item in r.items}
    for finding in found.findings:
        if finding.settling is not None and finding.settling.step:
            outlook = told[finding.measure]
            assert re.match(r"(from ±[\d.]+.* to|a range of) about ±[\d.]+", outlook)
            assert ("decided with a chance of" in outlook) == finding.settling.decides


def test_the_page_shows_each_phone_with_its_six_quantities() -> None:
    found = assessment()
    report = compose(found)
    assert [len(phone.rows) for phone in report.phones] == [6, 6]
    text = page(found)
    assert text.count('<table class="held">') == 2
    for phone in report.phones:
        assert phone.summary in text.replace("&#39;", "'")
