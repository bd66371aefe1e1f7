"""Setting papers: the same bytes each time, letters of many scripts, tags for readers."""

from __future__ import annotations

import json
from importlib import resources
from pathlib import Path

import pypdfium2
import pytest

from wellset.reports.sheet import PAPERS, sheet_pdf
from wellset.reports.typesetting import FAMILIES, _all_held, _fonts


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
