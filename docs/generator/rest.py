"""The REST interface, read from its own description."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from docs.generator.text import page, table
from wellset.web.api.description import ABOUT, PARTS, description

EXAMPLE: Final = """\
## Example

```sh
B=http://localhost:8484
curl -c jar -H 'X-Wellset-Client: mine' -d password='three small words' $B/sign-in
curl -b jar $B/api/students?text=robin
curl -b jar -H 'X-Wellset-Client: mine' --json '{"name": "Robin Vale", "height": "178 cm"}' \\
  $B/api/students
curl -b jar -H 'X-Wellset-Client: mine' -T front.jpg "$B/api/media?name=front.jpg"
```

A picture goes to `/api/media` first; the answer's `media` is named in a new set-up, whose `job`
tells how far the work is. When it is `done`, read the set-up, its assessment and its landmarks.

The same description in OpenAPI is at `/api/openapi.json` of a running lesson book, for signed-in
devices.
"""
ERROR: Final = """\
## Errors

```json
{"error": {"what": "This student was changed meanwhile",
           "why": "another tab or device saved it after you opened it.",
           "fix": "Compare both, then save yours over it or keep the other.",
           "where": ""}}
```
"""
Whole = dict[str, Any]


def pages() -> dict[str, str]:
    """The page by its path."""
    whole = description()
    return {
        "reference/rest-api.md": page(
            "The REST interface",
            ABOUT,
            EXAMPLE,
            _errors(whole),
            *_operations(whole),
            *_shapes(whole),
        )
    }


def _errors(whole: Whole) -> str:
    answers = whole["paths"]["/api/students/{student_id}"]["put"]["responses"]
    rows = [
        (code, each["description"]) for code, each in sorted(answers.items()) if int(code) >= 400
    ]
    return ERROR + "\n" + table(("Status", "Means"), rows)


def _operations(whole: Whole) -> Iterator[str]:
    tags = [part.router.tags[0] for part in PARTS]
    for tag in tags:
        rows = [
            (
                f"`{method.upper()} {path}`",
                _words(each),
                _sent(each),
                _got(each),
            )
            for path, methods in whole["paths"].items()
            for method, each in methods.items()
            if each["tags"] == [tag]
        ]
        yield f"## {tag}\n\n" + table(("Request", "Does", "Send", "Get"), rows)


def _words(operation: Whole) -> str:
    return str(operation["description"])


def _sent(operation: Whole) -> str:
    asked = [
        f"`{each['name']}`" for each in operation.get("parameters", []) if each["in"] == "query"
    ]
    if "requestBody" in operation:
        asked.insert(0, _name(next(iter(operation["requestBody"]["content"].values()))["schema"]))
    return ", ".join(asked)


def _got(operation: Whole) -> str:
    code, answer = next(iter(operation["responses"].items()))
    content = answer.get("content", {}).get("application/json", {}).get("schema")
    return f"{code} {_name(content)}".strip() if content else code


def _name(schema: Whole) -> str:
    """How a shape is called, with a link to it."""
    if "$ref" in schema:
        name = str(schema["$ref"]).rsplit("/", maxsplit=1)[-1]
        listed = name.removeprefix("Listed_").removesuffix("_")
        return _link(name) if listed == name else f"list of {_link(listed)}"
    if "anyOf" in schema:
        return " or ".join(_name(each) for each in schema["anyOf"])
    if schema.get("type") == "array":
        return f"list of {_name(schema['items'])}"
    if schema.get("additionalProperties", True) is not True:
        return f"{_name(schema['additionalProperties'])} by name"
    return _plain(schema)


def _plain(schema: Whole) -> str:
    if "enum" in schema:
        return ", ".join(f"`{each}`" if each else "empty" for each in schema["enum"])
    if schema.get("format") == "binary":
        return "the bytes"
    kind = str(schema.get("type", "JSON"))
    return "text" if kind == "string" else kind


def _link(name: str) -> str:
    return f"[{name}](#{name.lower()})"


def _shapes(whole: Whole) -> Iterator[str]:
    for name, schema in whole["components"]["schemas"].items():
        if name.startswith("Listed_") or "properties" not in schema:
            continue
        needed = set(schema.get("required", ()))
        rows = [
            (
                f"`{field}`",
                "yes" if field in needed else "",
                _name(each),
                each.get("description", ""),
            )
            for field, each in schema["properties"].items()
        ]
        words = str(schema.get("description", "")).strip()
        head = ("Field", "Always", "Kind", "Meaning")
        yield f"### {name}\n\n{words}\n\n" + table(head, rows)
