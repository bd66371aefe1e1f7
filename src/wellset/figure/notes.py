"""Doubtful but usable: what a person should know about a picture, as a value."""

from __future__ import annotations

from attrs import frozen


@frozen(kw_only=True)
class Note:
    """Something that weakens the answer without spoiling it.

    Parameters
    ----------
    code : str
        Stable name for programs, in lower case with underscores.
    message : str
        One sentence for the coach, with the numbers that led to it.
    remedy : str
        What to do about it, or why nothing needs doing.
    where : str
        Name of the picture, or empty.
    """

    code: str
    message: str
    remedy: str
    where: str = ""
