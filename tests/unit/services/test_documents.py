"""Documents that people edit: what is wrong, said by path."""

from __future__ import annotations

import pytest

from wellset.errors import InputError
from wellset.services.documents import Document, parse_json, parse_yaml, validate


class _Inner(Document):
    count: int


class _Outer(Document):
    name: str
    parts: tuple[_Inner, ...] = ()


def why(data: object) -> str:
    with pytest.raises(InputError) as caught:
        validate(_Outer, data, where="a.yaml", what="The list")
    assert caught.value.where == "a.yaml"
    assert caught.value.what == "The list cannot be used"
    return caught.value.why


def test_a_right_document_is_its_model() -> None:
    data = {"name": "a", "parts": [{"count": 2}]}
    found = validate(_Outer, data, where="a.yaml", what="The list")
    assert found == _Outer(name="a", parts=(_Inner(count=2),))


def test_mistakes_are_listed_in_order_with_their_paths() -> None:
    data = {"parts": [{"count": 1}, {"count": "two"}, 3], "size": 1}
    assert why(data) == (
        "name: this field is missing; "
        "parts.1.count: input should be a valid integer, unable to parse string as an integer; "
        "parts.2: fields with names are expected here; "
        "size: this field is not known."
    )


@pytest.mark.parametrize("data", [None, 3, [], "text"])
def test_a_document_without_fields_is_told_so(data: object) -> None:
    assert why(data) == "the document: fields with names are expected here."


def test_yaml_is_read_as_data_and_json_is_yaml_too() -> None:
    assert parse_yaml('{"a": [1, 2]}', where="a", what="The list") == {"a": [1, 2]}
    assert parse_yaml("a: [1, 2]\n", where="a", what="The list") == {"a": [1, 2]}
    assert parse_json('{"a": [1, 2]}', where="a", what="The list") == {"a": [1, 2]}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a: 1\nb: [\n", "line 3 cannot be read"),
        ("a: \x00", "cannot be read as YAML"),
        ("a: 2024-02-30", "a date or number that is none"),
        ("[" * 5000, "nested too deeply"),
    ],
    ids=["open bracket", "control character", "no date", "endless brackets"],
)
def test_text_that_is_no_yaml_is_refused_with_its_line(text: str, words: str) -> None:
    with pytest.raises(InputError, match=f"a.yaml: The list cannot be used: .*{words}"):
        parse_yaml(text, where="a.yaml", what="The list")


def test_text_that_is_no_json_is_refused_with_its_line_and_column() -> None:
    with pytest.raises(InputError, match=r"line 2, column 5 is not valid JSON"):
        parse_json('{"a": 1,\n"b" 2}', where="a.json", what="The list")
