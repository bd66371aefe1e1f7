"""Setting papers: the same bytes each time, letters of many scripts, tags for readers."""

from __future__ import annotations

import json
from importlib import resources
from pathlib import Path

import pypdfium2
import pytest
import typst

from wellset.reports.sheet import PAPERS, sheet_pdf
from wellset.reports.typesetting import FAMILIES, _all_held, _fonts, typeset


def test_the_same_call_gives_the_same_bytes() -> None:
    assert sheet_pdf(PAPERS["a4"]) == sheet_pdf(PAPERS["a4"])


def test_every_family_travels_with_the_package_under_its_licence() -> None:
    families = {each.family for each in _fonts(system=False).fonts() if each.path}
    assert set(FAMILIES) <= families
    folder = resources.files("wellset.reports").joinpath("fonts")
    licence = Path(str(folder.joinpath("OFL.txt"))).read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE" in licence


@pytest.mark.parametrize(
    "name", ["Zoë Łukasiewicz", "Ἀθηνᾶ", "Ирина", "سلام", "שלום", "ไทย", "अमर"]
)
def test_names_of_these_scripts_are_set_in_our_own_letters(name: str) -> None:
    assert _all_held(json.dumps({"name": name}, ensure_ascii=False))


def test_a_name_of_another_script_asks_for_the_letters_of_the_machine() -> None:
    assert not _all_held("李雷")


def test_a_paper_uses_none_but_our_letters() -> None:
    page = pypdfium2.PdfDocument(sheet_pdf(PAPERS["letter"]))[0]
    fonts = {
        each.get_font().get_base_name()
        for each in page.get_objects()
        if isinstance(each, pypdfium2.PdfTextObj)
    }
    assert fonts
    assert all("NotoSans" in each for each in fonts)


# Signs of a phone's keyboard, and a letter that hardly a machine has (Khitan, Unicode 13).
@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("Robin \U0001f600", "Robin"),
        ("Robin \U0001f44d\U0001f3fd Vale", "Robin Vale"),
        ("Ro\U00018b00bin", "Ro?bin"),
        ("Robin → Zoë ½", "Robin → Zoë ½"),
    ],
)
def test_signs_that_no_font_has_never_cost_a_paper(
    name: str, shown: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wellset.reports.sheet.HEADING", name)
    with pypdfium2.PdfDocument(sheet_pdf(PAPERS["a4"])) as document:
        text = " ".join(document[0].get_textpage().get_text_range().split())
    assert shown in text
    assert not {"\U0001f600", "\U0001f44d"} & set(text)


def test_other_faults_of_a_paper_are_not_hidden() -> None:
    with pytest.raises(typst.TypstError, match="dictionary does not contain key"):
        typeset("sheet.typ", given={})
