"""Days and times on the coach's clock; the zones' rules are those of the IANA database."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from wellset.errors import InputError
from wellset.web.local_time import LocalTime

BERLIN = LocalTime(zone=ZoneInfo("Europe/Berlin"))
AUCKLAND = LocalTime(zone=ZoneInfo("Pacific/Auckland"))
HONOLULU = LocalTime(zone=ZoneInfo("Pacific/Honolulu"))


@pytest.fixture
def machine_in_new_york() -> Iterator[LocalTime]:
    """The machine's own zone, for a while."""
    before = os.environ.get("TZ")
    os.environ["TZ"] = "America/New_York"
    time.tzset()
    yield LocalTime()
    if before is None:
        del os.environ["TZ"]
    else:
        os.environ["TZ"] = before
    time.tzset()


def test_a_typed_time_is_kept_as_a_universal_moment() -> None:
    assert BERLIN.moment("2026-11-25", "14:30") == "2026-11-25T13:30:00Z"
    assert BERLIN.moment("2026-07-01", "14:30") == "2026-07-01T12:30:00Z"
    assert AUCKLAND.moment("2026-11-25", "08:00") == "2026-11-24T19:00:00Z"


def test_what_is_typed_is_what_is_shown() -> None:
    for clock in (BERLIN, AUCKLAND, HONOLULU):
        kept = clock.moment("2026-03-05", "07:15")
        assert (clock.typed_day(kept), clock.time(kept)) == ("2026-03-05", "07:15")
        assert clock.day(kept) == "5 Mar 2026"


def test_the_day_here_is_not_the_universal_one() -> None:
    # half past eleven in the evening of the 24th in Honolulu is the 25th in Greenwich
    now = "2026-11-25T09:30:00Z"
    begin, end = HONOLULU.days_from(now)
    assert begin < "2026-11-24T10:00:00Z" < end
    assert not begin < "2026-11-25T10:00:00Z" < end
    assert HONOLULU.day(now) == "24 Nov 2026"


@pytest.mark.parametrize(
    ("day", "hours"), [("2026-03-29", 23), ("2026-10-25", 25), ("2026-11-25", 24)]
)
def test_a_day_is_as_long_as_its_clock_makes_it(day: str, hours: int) -> None:
    noon = BERLIN.moment(day, "12:00")
    begin, end = (datetime.fromisoformat(each) for each in BERLIN.days_from(noon))
    assert end - begin == timedelta(hours=hours)


def test_a_moment_at_midnight_belongs_to_the_day_that_begins() -> None:
    noon = BERLIN.moment("2026-11-25", "12:00")
    begin, end = BERLIN.days_from(noon)
    first, last = (BERLIN.moment(day, "00:00") for day in ("2026-11-25", "2026-11-26"))
    assert begin <= first < end
    assert not begin <= last < end
    assert begin <= first.replace("Z", ".5Z") < end  # the first half second too


def test_a_time_that_the_clock_skips_is_refused_in_words() -> None:
    with pytest.raises(InputError, match=r"skips 02:30 on 29 Mar 2026"):
        BERLIN.moment("2026-03-29", "02:30")


def test_of_an_hour_that_comes_twice_the_first_is_meant() -> None:
    assert BERLIN.moment("2026-10-25", "02:30") == "2026-10-25T00:30:00Z"


@pytest.mark.parametrize(
    ("day", "at"), [("", "10:00"), ("2026-11-25", ""), ("tomorrow", "10:00"), ("2026-02-30", "9")]
)
def test_what_is_no_day_and_time_is_refused(day: str, at: str) -> None:
    with pytest.raises(InputError, match="no day and time"):
        BERLIN.moment(day, at)


def test_days_are_spoken_of_as_one_does() -> None:
    now = BERLIN.moment("2026-11-25", "23:50")
    for day, words in (
        ("2026-11-25", "Today"),
        ("2026-11-26", "Tomorrow"),
        ("2026-11-27", "Friday, 27 Nov 2026"),
    ):
        assert BERLIN.day_seen_from(now, BERLIN.moment(day, "00:10")) == words


def test_without_a_zone_the_machines_own_holds(machine_in_new_york: LocalTime) -> None:
    assert machine_in_new_york.moment("2026-01-15", "09:00") == "2026-01-15T14:00:00Z"
    assert machine_in_new_york.moment("2026-07-15", "09:00") == "2026-07-15T13:00:00Z"
    assert machine_in_new_york.time("2026-07-15T13:00:00Z") == "09:00"
    assert machine_in_new_york.name("2026-07-15T13:00:00Z") == "EDT, UTC-04:00"
    with pytest.raises(InputError, match="skips 02:30 on 8 Mar 2026"):
        machine_in_new_york.moment("2026-03-08", "02:30")
    noon = machine_in_new_york.moment("2026-03-08", "12:00")
    begin, end = (datetime.fromisoformat(e) for e in machine_in_new_york.days_from(noon))
    assert end - begin == timedelta(hours=23)


def test_a_calendar_day_stays_that_day_everywhere() -> None:
    assert HONOLULU.day("2026-11-25") == AUCKLAND.day("2026-11-25") == "25 Nov 2026"
