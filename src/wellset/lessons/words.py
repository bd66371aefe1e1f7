"""What a person types into a name or a note."""

from __future__ import annotations

from wellset.errors import InputError


def one_line(text: str, /, *, what: str, most: int, least: int = 0) -> str:
    """A line of readable characters, outer blanks removed.

    Parameters
    ----------
    text : str
    what : str
        How the field is called on the page.
    most, least : int
        Allowed numbers of characters.

    Raises
    ------
    InputError
    """
    clean = text.strip()
    if not least <= len(clean) <= most:
        raise InputError(
            f"Cannot use this {what}",
            why=f"it has {len(clean)} characters.",
            fix=f"Write {least} to {most} characters.",
            where=what,
        )
    if not clean.isprintable():
        raise InputError(
            f"Cannot use this {what}",
            why="it holds a line break or another character that cannot be shown.",
            fix="Write it on one line.",
            where=what,
        )
    return clean


def paragraphs(text: str, /, *, what: str, most: int) -> str:
    """Text of several lines, outer blanks and strange line ends removed.

    Raises
    ------
    InputError
    """
    clean = "\n".join(line.rstrip() for line in text.splitlines()).strip()
    if len(clean) > most:
        raise InputError(
            f"Cannot use this {what}",
            why=f"it has {len(clean)} characters.",
            fix=f"Write at most {most}.",
            where=what,
        )
    if not all(c.isprintable() or c in "\n\t" for c in clean):
        raise InputError(
            f"Cannot use this {what}",
            why="it holds characters that cannot be shown.",
            fix="Delete them.",
            where=what,
        )
    return clean
