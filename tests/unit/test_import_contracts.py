"""The house holds: which room may import which is checked by machine."""

import sys
import tomllib
from pathlib import Path

import pytest
from importlinter.cli import lint_imports

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "wellset"

# What the design calls the core: from the errors to the lessons.
CORE = {
    "errors",
    "units",
    "geometry",
    "estimation",
    "body",
    "equipment",
    "figure",
    "measures",
    "standards",
    "assess",
    "prescribe",
    "advise",
    "lessons",
}


def contract(name: str) -> dict[str, list[str]]:
    """Read one contract as it is written in pyproject.toml."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    contracts = settings["tool"]["importlinter"]["contracts"]
    return next(entry for entry in contracts if entry["id"] == name)


def test_every_import_contract_is_kept(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    monkeypatch.setattr(sys, "path", list(sys.path))  # the linter adds to it
    exit_code = lint_imports(cache_dir=None, no_cache=True)
    assert exit_code == 0, capsys.readouterr().out


def test_every_room_of_the_core_that_exists_is_held_pure() -> None:
    rooms = {path.stem for path in PACKAGE.iterdir() if path.stem in CORE}
    held = {name.removeprefix("wellset.") for name in contract("pure-core")["source_modules"]}
    assert held == rooms


def test_the_house_has_one_place_for_every_room_of_the_core() -> None:
    rows = " | ".join(contract("house")["layers"])
    places = [place.strip(" ()") for place in rows.split("|")]
    assert len(places) == len(set(places))
    assert set(places) >= CORE
