"""What went wrong, why, and how to mend it.

Every error a user can meet carries three fields, so that each door (command
line, page, API) can show them in its own way without inventing words.
"""

from __future__ import annotations


class WellsetError(Exception):
    """Base of all errors raised on purpose.

    Parameters
    ----------
    what : str
        The one thing that could not be done, in a coach's words.
    why : str
        The reason, with the numbers that led to it.
    fix : str
        What to do next.
    where : str, optional
        File, field or picture the message is about.
    """

    def __init__(self, what: str, *, why: str, fix: str, where: str = "") -> None:
        self.what = what
        self.why = why
        self.fix = fix
        self.where = where
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """The whole message on one line: where, what, why, fix."""
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head}: {self.why} {self.fix}"


class InputError(WellsetError, ValueError):
    """A value the caller gave is wrong: a length, a name, a field of a file."""


class PictureError(WellsetError, ValueError):
    """A picture cannot be read or is not a picture."""


class SceneError(WellsetError, ValueError):
    """A picture is readable, but what it shows cannot be assessed."""


class EquipmentError(WellsetError, ValueError):
    """A club or ball breaks the rules of equipment."""


class StandardsError(WellsetError, ValueError):
    """A standards file is wrong."""


class EstimationError(WellsetError, ArithmeticError):
    """The points could not be solved for."""


class OutputError(WellsetError, OSError):
    """A result could not be written."""


class MissingError(WellsetError, LookupError):
    """Something that is asked for is not in the lesson book (any more)."""


class ConflictError(WellsetError, RuntimeError):
    """Something was changed by someone else since it was read."""


class StorageError(WellsetError, OSError):
    """The lesson book or its media could not be read or written."""
