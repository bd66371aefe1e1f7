"""The table of measures, from the browser and from the command line."""

from __future__ import annotations

import csv
import io
import json
from io import BytesIO
from pathlib import Path

import pytest
from arro3.io import read_parquet
from fastapi.testclient import TestClient

from tests.integration.web.test_handover import assessed
from tests.integration.web.test_lessons import lesson
from tests.support.reports import assessment
from wellset.cli import main
from wellset.lessons import StudentCard
from wellset.measures import MEASURES
from wellset.reports.json_contract import assessment_json_text
from wellset.services.lesson_work import Desk

__all__ = ["assessed", "lesson"]


def table(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_a_students_measures_are_a_row_each_with_ids_and_no_name(
    coach: TestClient, assessed: str
) -> None:
    answer = coach.get("/students/robin/measures")
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert "wellset-measures.csv" in answer.headers["content-disposition"]
    rows = table(answer.text)
    assert [row["measure"] for row in rows] == list(MEASURES)
    assert {row["student"] for row in rows} == {"robin"}
    assert {row["set_up"] for row in rows} == {assessed}
    assert all(row["taken_at"] and row["assessed_at"] and row["lesson"] for row in rows)
    assert "Vale" not in answer.text


def test_names_and_parquet_are_asked_for_on_the_page(coach: TestClient, assessed: str) -> None:
    page = coach.get("/students/robin").text
    assert 'action="/students/robin/measures"' in page
    assert 'action="/measures"' in coach.get("/students").text
    answer = coach.get("/measures?kind=parquet&names=on")
    found = read_parquet(BytesIO(answer.content)).read_all()
    assert found.num_rows == len(MEASURES)
    (name,) = set(found["name"].to_pylist())
    assert "Vale" in name
    assert set(found["set_up"].to_pylist()) == {assessed}


def test_an_unknown_student_is_told(coach: TestClient) -> None:
    assert coach.get("/students/nobody/measures").status_code == 404
    assert coach.get("/measures?kind=xls").status_code == 422


def test_a_stranger_gets_no_numbers(stranger: TestClient) -> None:
    answer = stranger.get("/measures", follow_redirects=False)
    assert answer.status_code == 303
    assert "measure" not in answer.text


def test_the_whole_book_is_written_student_by_student(
    coach: TestClient, desk: Desk, assessed: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    del coach, assessed
    with desk.book.writing() as pages:
        card = pages.student("robin")
        pages.save_student(
            StudentCard(
                id="sam",
                file=card.file,
                name="Sam",
                created_at=card.created_at,
                changed_at=card.changed_at,
            )
        )
    file = tmp_path / "all.csv"
    database = f"sqlite:///{tmp_path / 'book.db'}"
    assert main(["measures", str(file), "--data", str(tmp_path), "--database", database]) == 0
    assert f"{len(MEASURES)} rows" in capsys.readouterr().out
    assert len(table(file.read_text("utf-8"))) == len(MEASURES)
    run = ["measures", "-", "--of", "vale", "--names", "--database", database]
    assert main([*run, "--data", str(tmp_path)]) == 0
    assert len(table(capsys.readouterr().out)) == len(MEASURES)
    assert main([*run[:2], "--of", "nobody", "--database", database]) == 3
    assert "nobody in the lesson book" in capsys.readouterr().err


def test_files_of_runs_become_one_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sources = []
    for name in ("a", "b"):
        path = tmp_path / f"{name}.json"
        path.write_text(assessment_json_text(assessment()), "utf-8")
        sources += ["--from", str(path)]
    file = tmp_path / "runs.parquet"
    assert main(["measures", str(file), *sources]) == 0
    found = read_parquet(BytesIO(file.read_bytes())).read_all()
    assert found.num_rows == 2 * len(MEASURES)
    assert set(found["source"].to_pylist()) == {"a.json", "b.json"}
    assert main(["measures", str(tmp_path / "runs.xls"), *sources]) == 3
    assert ".csv or .parquet" in capsys.readouterr().err
    assert main(["measures", "-", *sources, "--of", "robin"]) == 3
    assert "--of or --from" in capsys.readouterr().err


def test_a_file_that_is_no_assessment_leaves_no_table_behind(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text(json.dumps({"schema": "wellset.plan/1"}))
    file = tmp_path / "runs.csv"
    assert main(["measures", str(file), "--from", str(bad)]) == 3
    assert "bad.json" in capsys.readouterr().err
    assert not file.exists()
