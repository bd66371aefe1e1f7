"""The coach's password: hashed with argon2id, kept among the book's settings."""

from __future__ import annotations

from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import VerificationError
from attrs import field, frozen

from wellset.errors import InputError
from wellset.services.book import Book

SETTING: Final = "password"
LEAST: Final = 8
MOST: Final = 200


@frozen(kw_only=True, eq=False)
class Passwords:
    """Sets and checks the password."""

    book: Book
    _hasher: PasswordHasher = field(factory=PasswordHasher)

    @property
    def is_set(self) -> bool:
        """Whether a coach has chosen one."""
        with self.book.reading() as pages:
            return pages.setting(SETTING) is not None

    def choose(self, password: str, /) -> None:
        """Keep a password's hash.

        Raises
        ------
        InputError
            When it is too short or too long.
        """
        if not LEAST <= len(password) <= MOST:
            raise InputError(
                "Cannot use this password",
                why=f"it has {len(password)} characters.",
                fix=f"Choose {LEAST} to {MOST}; three words with blanks between them are fine.",
            )
        hashed = self._hasher.hash(password)
        with self.book.writing() as pages:
            pages.save_setting(SETTING, hashed)

    def fits(self, password: str, /) -> bool:
        """Whether it is the coach's password; takes equally long when none is set."""
        with self.book.reading() as pages:
            kept = pages.setting(SETTING)
        hashed = kept or self._hasher.hash("nobody's")
        try:
            fits = self._hasher.verify(hashed, password[: MOST + 1])
        except VerificationError:
            return False
        return fits and kept is not None
