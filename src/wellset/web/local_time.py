"""The coach's own clock: stored moments are universal, pages speak of days and times here.

Here is the time zone of the machine that holds the book, with its summer time; a page shows
the same hour on the laptop and on a phone.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, tzinfo
from datetime import time as Time  # noqa: N812 - a method here is called time
from typing import Final

from attrs import frozen

from wellset.errors import InputError

_MOMENT: Final = "%Y-%m-%dT%H:%M:%SZ"
_DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS: Final = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


def _text(when: datetime) -> str:
    return when.astimezone(UTC).strftime(_MOMENT)


def _bound(when: datetime) -> str:
    """A moment to compare others with: with its fraction it sorts before whole seconds."""
    return when.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.000000Z")


def _date_words(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


@frozen(kw_only=True)
class LocalTime:
    """A time zone, for reading and writing stored moments.

    Parameters
    ----------
    zone : tzinfo or None
        That of the machine where it is ``None``.
    """

    zone: tzinfo | None = None

    def here(self, moment: str, /) -> datetime:
        """A stored moment on the clock here."""
        return datetime.fromisoformat(moment).astimezone(self.zone)

    def day(self, moment: str, /) -> str:
        """The day of a moment, or a calendar day, in words: ``25 Nov 2026``."""
        whole = date.fromisoformat(moment) if "T" not in moment else self.here(moment).date()
        return _date_words(whole)

    def time(self, moment: str, /) -> str:
        """The time of a moment: ``14:05``."""
        return self.here(moment).strftime("%H:%M")

    def typed_day(self, moment: str, /) -> str:
        """The day of a moment as a form's field holds it: ``2026-11-25``."""
        return self.here(moment).date().isoformat()

    def day_seen_from(self, now: str, moment: str) -> str:
        """A day as one speaks of it: ``Today``, ``Tomorrow``, ``Friday, 27 Nov 2026``."""
        day, today = self.here(moment).date(), self.here(now).date()
        if day == today:
            return "Today"
        if day == today + timedelta(days=1):
            return "Tomorrow"
        return f"{_DAYS[day.weekday()]}, {_date_words(day)}"

    def days_from(self, now: str, *, first: int = 0, last: int = 0) -> tuple[str, str]:
        """From the beginning of one day here to the end of another, as stored moments.

        Parameters
        ----------
        now : str
            Stored moment.
        first, last : int
            Days after that of `now`. A day is as long as its clock makes it: 23 or 25 hours
            when summer time comes or goes.
        """
        today = self.here(now).date()
        begin, end = (today + timedelta(days=days) for days in (first, last + 1))
        return _bound(self._at(begin, Time())), _bound(self._at(end, Time()))

    def name(self, moment: str, /) -> str:
        """What the zone is called at a moment, and how far it is from universal time."""
        here = self.here(moment)
        offset = here.strftime("%z")
        return f"{here.tzname()}, UTC{offset[:3]}:{offset[3:5]}"

    def moment(self, day: str, at: str) -> str:
        """The stored moment of a day and a time typed here.

        Of an hour that comes twice, when summer time ends, the first is meant.

        Raises
        ------
        InputError
            When they cannot be read, or the clock here skips that time.
        """
        try:
            typed = datetime.combine(date.fromisoformat(day), Time.fromisoformat(at))
        except ValueError:
            raise InputError(
                "The lesson's time cannot be used",
                why=f'"{day[:20]} {at[:20]}" is no day and time.',
                fix="Give a day like 2026-11-25 and a time like 14:30.",
                where="time",
            ) from None
        when = self._at(typed.date(), typed.time())
        if when.astimezone(UTC).astimezone(self.zone).replace(tzinfo=None) != typed:
            raise InputError(
                "The lesson's time cannot be used",
                why=f"the clock here skips {at[:5]} on {_date_words(typed.date())}: summer time "
                "begins.",
                fix="Give a time an hour earlier or later.",
                where="time",
            )
        return _text(when)

    def _at(self, day: date, at: Time) -> datetime:
        """A time here with its zone; the machine's own zone takes times without one."""
        typed = datetime.combine(day, at.replace(tzinfo=None))
        return typed.astimezone() if self.zone is None else typed.replace(tzinfo=self.zone)
