"""Measures as a long table: from assessments in JSON to CSV and Parquet."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from io import BytesIO
from pathlib import Path

import pytest
from arro3.io import read_parquet
from attrs import evolve

from tests.support.reports import NAME, assessment
from wellset.bootstrap.measures import written_measures
from wellset.errors import InputError
from wellset.figure.views import View
from wellset.measures import MEASURES, Measured
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.measure_table import column_names, csv_chunks, parquet_table
from wellset.services.measure_rows import MeasureRow, rows_of_document


def rows(*, names: bool = False, views: tuple[View, ...] = tuple(View)) -> list[MeasureRow]:
    text = assessment_json_text(assessment(views=views))
    return list(rows_of_document(text, where="/somewhere/robin.json", names=names))


def read_csv(found: list[MeasureRow], *, names: bool = False) -> list[dict[str, str]]:
    text = b"".join(csv_chunks(found, names=names)).decode()
    return list(csv.DictReader(io.StringIO(text)))


def test_every_measure_has_one_row_in_the_order_of_the_catalogue() -> None:
    assert [row.measure for row in rows()] == list(MEASURES)


def test_a_row_holds_the_number_its_range_its_window_and_its_verdict() -> None:
    found = assessment()
    by_measure = {row.measure: row for row in rows()}
    for finding in found.findings:
        row, result = by_measure[finding.measure], finding.result
        assert row.verdict == finding.verdict.value
        assert row.unit == finding.unit.value
        if isinstance(result, Measured):
            assert row.value == pytest.approx(result.value, rel=1e-2, abs=1e-3)
            assert row.standard_uncertainty == pytest.approx(result.sd, rel=1e-2)
            assert row.value is not None
            assert row.low95 is not None
            assert row.high95 is not None
            assert row.low95 < row.value < row.high95
        if finding.window.low is not None:
            assert row.window_low == pytest.approx(finding.window.low, abs=1e-4)
    assert {row.club for row in rows()} == {found.club.name}
    assert {row.standards for row in rows()} == {"default"}
    assert {row.pictures for row in rows()} == {"face_on down_the_line"}


def test_a_measure_without_a_number_keeps_its_row_unit_and_reason() -> None:
    missing = [row for row in rows(views=(View.FACE_ON,)) if row.value is None]
    assert missing
    for row in missing:
        assert row.not_measurable
        assert row.unit == MEASURES[row.measure].unit.value
        assert row.standard_uncertainty is None


def test_names_go_along_only_when_they_are_asked_for() -> None:
    assert {row.name for row in rows()} == {None}
    assert "name" not in column_names(names=False)
    assert {row["name"] for row in read_csv(rows(names=True), names=True)} == {NAME}
    assert NAME not in b"".join(csv_chunks(rows())).decode()


def test_files_of_one_name_are_told_apart_without_their_folders_and_a_folder_will_do(
    tmp_path: Path,
) -> None:
    """Two students' assessments are both called assessment.json; their folders name people."""
    for who in ("robin", "sam"):
        (tmp_path / who).mkdir()
        text = assessment_json_text(assessment())
        (tmp_path / who / "assessment.json").write_text(text, encoding="utf-8")
    table = tmp_path / "runs.csv"
    given = (str(tmp_path / "robin"), str(tmp_path / "sam" / "assessment.json"))
    written_measures(str(table), sources=given)
    found = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"))))
    sources = [row["source"] for row in found]
    assert Counter(sources) == {
        "assessment.json (1)": len(MEASURES), "assessment.json (2)": len(MEASURES)
    }  # fmt: skip
    assert "robin" not in table.read_text(encoding="utf-8")


def test_the_source_is_the_files_own_name_without_its_folder() -> None:
    assert {row.source for row in rows()} == {"robin.json"}


def test_csv_and_parquet_hold_the_same() -> None:
    found = rows(views=(View.DOWN_THE_LINE,))
    table = read_parquet(BytesIO(parquet_table(found))).read_all()
    assert list(table.schema.names) == list(column_names(names=False))
    shown = read_csv(found)
    assert table.num_rows == len(shown) == len(MEASURES)
    for name in column_names(names=False):
        for cell, text in zip(table[name].to_pylist(), (row[name] for row in shown), strict=True):
            if isinstance(cell, bool):
                assert text == str(cell).lower()
            elif isinstance(cell, float):
                assert float(text) == cell
            else:
                assert text == (cell or "")


def test_text_that_a_spreadsheet_would_run_is_written_as_text() -> None:
    (row, *_) = rows()
    (shown,) = read_csv([evolve(row, club="=1+1", value=-3.5)])
    assert shown["club"] == "'=1+1"
    assert shown["value"] == "-3.5"


def test_a_long_table_comes_in_pieces() -> None:
    many = rows() * 50
    pieces = list(csv_chunks(iter(many)))
    assert len(pieces) > 2
    assert b"".join(pieces).count(b"\r\n") == len(many) + 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not valid JSON"),
        ("[]", "fields with names are expected"),
        ('{"schema": "wellset.plan/1"}', "schema: input should be 'wellset.assessment/1'"),
    ],
)
def test_what_is_no_assessment_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError) as raised:
        rows_of_document(text, where="x.json")
    assert said in raised.value.sentence


def test_what_later_versions_add_is_passed_over() -> None:
    data = json.loads(assessment_json_text(assessment()))
    data["weather"] = "fair"
    data["measures"]["stance_width"]["mood"] = "good"
    found = list(rows_of_document(json.dumps(data), where="x.json"))
    assert [evolve(row, source=None) for row in found] == [
        evolve(row, source=None) for row in rows()
    ]
