"""From the text of a standards file to checked standards."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache

from attrs import evolve, field, frozen
from pydantic import ValidationError

from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.standards.defaults import default_text
from wellset.standards.document import (
    HEAD_FIELDS,
    DecisionPart,
    HeadPart,
    StationPart,
    read_yaml,
)
from wellset.standards.problems import Problem, StandardsFileError, from_validation
from wellset.standards.scale import HeadsCount
from wellset.standards.shots import Shot, shot_named
from wellset.standards.values import SCHEMA, Decision, Standard, Standards, Station
from wellset.standards.windows import Patch, merged, read_patch
from wellset.standards.writing import digest_of

_OLD = "order of checking"


@frozen(kw_only=True)
class _ShotPart:
    """A shot as written: the shot it is like, and its changes."""

    like: Shot | None
    patches: dict[str, Patch | None]


@frozen(kw_only=True)
class _Reader:
    """Collects problems while reading."""

    problems: list[Problem] = field(factory=list)

    def note(self, path: str, text: str) -> None:
        self.problems.append(Problem(path, text))


def load_standards(text: str, *, where: str = "") -> Standards:
    """Read and check a standards file.

    Parameters
    ----------
    text : str
        The YAML text.
    where : str
        Name of the file, for messages.

    Raises
    ------
    StandardsFileError
        With every problem and its path at once.
    """
    document = read_yaml(text, where=where)
    reader = _Reader()
    head = _read_head(document, reader)
    base = _base(head, reader)
    shots = _read_shots(document.get("shots"), reader, based=base is not None)
    resolved = _Resolver(parts=shots, reader=reader, base=base).all_shots()
    heads = _heads(head, reader)
    decision = _decision(head, reader)
    stations = _stations(head, reader, base=base)
    if reader.problems or head is None:
        raise StandardsFileError(tuple(reader.problems), where=where)
    standards = Standards(
        name=head.name, heads=heads, decision=decision, stations=stations, shots=resolved
    )
    return evolve(standards, digest=digest_of(standards))


@cache
def default_standards() -> Standards:
    """The standards that come with the package; read once, they never change."""
    return load_standards(default_text(), where="default standards")


def _read_head(document: dict[object, object], reader: _Reader) -> HeadPart | None:
    try:
        head = HeadPart.model_validate({k: v for k, v in document.items() if k != "shots"})
    except ValidationError as error:
        reader.problems.extend(from_validation(error, path="", known=HEAD_FIELDS))
        return None
    if head.schema_ != SCHEMA:
        reader.note("schema", f'is "{head.schema_}"; this program reads "{SCHEMA}".')
    return head


def _base(head: HeadPart | None, reader: _Reader) -> Standards | None:
    if head is None or head.based_on is None:
        return None
    if head.based_on != "default":
        reader.note("based_on", f'is "{head.based_on}"; it can only be "default".')
        return None
    return default_standards()


def _heads(head: HeadPart | None, reader: _Reader) -> HeadsCount:
    try:
        return HeadsCount(head.club_heads_count if head else HeadsCount.EACH_SIDE)
    except ValueError:
        reader.note("club_heads_count", 'must be "each side" or "in all".')
        return HeadsCount.EACH_SIDE


def _decision(head: HeadPart | None, reader: _Reader) -> Decision:
    part = head.decision if head else DecisionPart()
    try:
        return Decision(inside_at_least=part.inside_at_least, outside_at_most=part.outside_at_most)
    except InputError as error:
        reader.note("decision", f"{error.why} {error.fix}")
        return Decision()


def _stations(
    head: HeadPart | None, reader: _Reader, *, base: Standards | None
) -> tuple[Station, ...]:
    """The order of checking; measures that it leaves out follow in the catalogue's order."""
    inherited = base.stations if base else ()
    if head is None or head.order is None:
        stations = inherited
    else:
        stations = _written_stations(head.order, reader)
    placed = {m for station in stations for m in station.measures}
    rest = tuple(m for m in MEASURES if m not in placed)
    return (*stations, Station(name="the rest", measures=rest)) if rest else stations


def _written_stations(parts: list[StationPart], reader: _Reader) -> tuple[Station, ...]:
    seen: set[str] = set()
    for at, part in enumerate(parts):
        for measure in part.measures:
            path = f"order.{at}.measures"
            if measure not in MEASURES:
                reader.note(path, unknown_measure(measure))
            elif measure in seen:
                reader.note(path, f"{measure} stands twice in the {_OLD}.")
            seen.add(measure)
    return tuple(Station(name=p.station, measures=tuple(p.measures)) for p in parts)


def unknown_measure(name: object) -> str:
    """What to say of a measure that the catalogue doesn't know."""
    near = get_close_matches(str(name), MEASURES, n=1)
    hint = f'did you mean "{near[0]}"?' if near else f"known are {', '.join(MEASURES)}."
    return f'there is no measure "{name}"; {hint}'


def _read_shots(raw: object, reader: _Reader, *, based: bool) -> dict[Shot, _ShotPart]:
    if raw is None and based:
        return {}
    if not isinstance(raw, dict) or not raw:
        reader.note("shots", "must list at least one kind of shot with its windows.")
        return {}
    shots: dict[Shot, _ShotPart] = {}
    for name, part in raw.items():
        path = f"shots.{name}"
        shot = _known_shot(name, path, reader=reader)
        if not isinstance(part, dict):
            reader.note(path, "must list measures with their windows.")
            continue
        read = _read_shot(part, path, reader=reader)
        if shot in shots:
            reader.note(path, "stands twice under different spellings.")
        elif shot is not None:
            shots[shot] = read
    return shots


def _known_shot(name: object, path: str, *, reader: _Reader) -> Shot | None:
    try:
        return shot_named(str(name))
    except InputError as error:
        reader.note(path, f"{error.why} {error.fix}")
        return None


def _read_shot(part: dict[object, object], path: str, *, reader: _Reader) -> _ShotPart:
    like: Shot | None = None
    patches: dict[str, Patch | None] = {}
    for key, raw in part.items():
        here = f"{path}.{key}"
        if key == "like":
            like = _known_shot(raw, here, reader=reader)
        elif key not in MEASURES:
            reader.note(here, unknown_measure(key))
        elif raw is None:
            patches[str(key)] = None
        else:
            patch, problems = read_patch(raw, path=here)
            reader.problems.extend(problems)
            if patch is not None:
                patches[str(key)] = patch
    return _ShotPart(like=like, patches=patches)


@frozen(kw_only=True, eq=False)
class _Resolver:
    """Follows ``like`` to its end."""

    parts: dict[Shot, _ShotPart]
    reader: _Reader
    base: Standards | None
    done: dict[Shot, dict[str, Standard]] = field(factory=dict)

    def all_shots(self) -> dict[Shot, dict[str, Standard]]:
        """Every shot of the file, and those of the base file that it doesn't mention."""
        for shot in self.parts:
            self._resolve(shot, ())
        for shot in self.base.shots if self.base else ():
            self.done.setdefault(shot, self._of_base(shot))
        return {shot: self.done[shot] for shot in Shot if shot in self.done}

    def _of_base(self, shot: Shot) -> dict[str, Standard]:
        return dict(self.base.shots.get(shot, {})) if self.base else {}

    def _resolve(self, shot: Shot, trail: tuple[Shot, ...]) -> dict[str, Standard]:
        if shot not in self.done:
            part = self.parts[shot]
            start = self._of_base(shot)
            if part.like is not None:
                start = self._inherited(part.like, (*trail, shot))
            standards, problems = merged(start, part.patches, path=f"shots.{shot}")
            self.reader.problems.extend(problems)
            self.done[shot] = standards
        return self.done[shot]

    def _inherited(self, shot: Shot, trail: tuple[Shot, ...]) -> dict[str, Standard]:
        path = f"shots.{trail[-1]}.like"
        if shot in trail:
            self.reader.note(path, f'"{shot}" is like itself in a circle.')
            return {}
        if shot in self.parts:
            return self._resolve(shot, trail)
        if not self._of_base(shot):
            self.reader.note(path, f'"{shot}" has no windows in this file.')
        return self._of_base(shot)
