"""Points of a landmark file changed one by one, as a table of coordinates does."""

from __future__ import annotations

import json
from collections.abc import Iterable
from enum import StrEnum
from typing import Any, Final

from attrs import field, frozen

from wellset.figure.views import View
from wellset.services.corrections import NO_VALUE
from wellset.services.landmark_file import HAND_SD_OF_HEIGHT, read_landmarks

RULED_OUT: Final = "ruled out by the coach"

_Data = dict[str, Any]


class Deed(StrEnum):
    """What a coach does with a point."""

    PLACE = "place"
    BACK = "back"
    RULE_OUT = "rule out"


@frozen(kw_only=True)
class PointEdit:
    """One landmark placed, given back to the networks, or said not to be visible.

    Parameters
    ----------
    view : View
    landmark : str
    deed : Deed
    at_px : pair of float
        Where it is placed, in the upright picture as taken; unused otherwise.
    """

    view: View
    landmark: str
    deed: Deed = field(converter=Deed)
    at_px: tuple[float, float] = (0.0, 0.0)


@frozen(kw_only=True)
class StickEdit:
    """One stick on the ground laid otherwise, taken away, or laid where none was found.

    Parameters
    ----------
    view : View
    number : int
        Place in the file's list; one past its end for a new stick.
    ends_px : two pairs of float, or None
        ``None`` takes it away.
    """

    view: View
    number: int
    ends_px: tuple[tuple[float, float], tuple[float, float]] | None


def edited(text: str, edits: Iterable[PointEdit | StickEdit]) -> str:
    """A landmark file with some points or sticks changed.

    Every changed point keeps the network's proposal beside it, every replaced stick stays
    in the file.

    Parameters
    ----------
    text : str
        The landmark file.

    Raises
    ------
    InputError
        When the file cannot be used, before or after.
    """
    read_landmarks(text, where="landmarks")
    data: _Data = json.loads(text)
    gone: list[StickEdit] = []
    for edit in edits:
        view = data["views"][edit.view.value]
        if isinstance(edit, PointEdit):
            view["landmarks"][edit.landmark] = _edited_point(
                view["landmarks"].get(edit.landmark, {"not_seen": NO_VALUE}), edit
            )
        elif edit.ends_px is None:
            gone.append(edit)
        else:
            _lay_stick(view, edit)
    for edit in sorted(gone, key=lambda each: -each.number):
        _take_stick(data["views"][edit.view.value], number=edit.number)
    changed = json.dumps(data, indent=1) + "\n"
    read_landmarks(changed, where="landmarks")
    return changed


def _edited_point(entry: _Data, edit: PointEdit, /) -> _Data:
    own = proposal_of(entry)
    kept = {"proposal": own} if own is not None else {}
    if edit.deed is Deed.BACK:
        return own or {"not_seen": entry.get("not_seen", NO_VALUE)}
    if edit.deed is Deed.RULE_OUT:
        return {"not_seen": RULED_OUT, **kept}
    x, y = edit.at_px
    return {"x_px": x, "y_px": y, "placed_by": "coach", **kept}


def proposal_of(entry: _Data, /) -> _Data | None:
    """What the networks proposed for an entry of a landmark file."""
    if "x_px" in entry and entry.get("placed_by") == "model":
        return entry
    proposal: _Data | None = entry.get("proposal")
    return proposal


def _lay_stick(view: _Data, edit: StickEdit) -> None:
    sticks: list[_Data] = view.setdefault("sticks", None) or []
    view["sticks"] = sticks
    old = sticks[edit.number] if edit.number < len(sticks) else None
    laid = {
        "ends_px": edit.ends_px,
        "sd_px": round(HAND_SD_OF_HEIGHT * view["picture"]["height_px"], 3),
        "ends_are_tips": bool(old and old.get("ends_are_tips")),
        "placed_by": "coach",
    }
    if old is None:
        sticks.append(laid)
    else:
        sticks[edit.number] = laid
        _keep_found(view, old)


def _take_stick(view: _Data, *, number: int) -> None:
    if number < len(view.get("sticks") or []):
        _keep_found(view, view["sticks"].pop(number))


def _keep_found(view: _Data, stick: _Data) -> None:
    if stick.get("placed_by") == "model":
        view.setdefault("replaced_sticks", []).append(stick)
