"""What is said of a video's still moment."""

from __future__ import annotations

from attrs import evolve

from wellset.figure.still import StillMoment, Stretch
from wellset.reports.still import still_part, still_words
from wellset.units import UnitSystem

STILL = StillMoment(
    window=Stretch(start_s=2.2667, end_s=3.8),
    frames_s=(2.5, 2.8, 3.1, 3.3, 3.6),
    shown_s=3.1,
    sway_mm=1.27,
    shake_mm=0.0,
    set_ups=(Stretch(start_s=2.2667, end_s=3.8),),
    chosen=1,
    then_moves=True,
)


def words(still: StillMoment | None, units: UnitSystem = UnitSystem.CENTIMETRES) -> str:
    return still_words(still, units=units).replace("\N{NO-BREAK SPACE}", " ")


def test_the_report_says_when_how_many_frames_and_how_still() -> None:
    assert words(STILL) == (
        "From a video: still from 2.27 to 3.80 s; 5 frames were measured, over which the body "
        "moved by 1.3 mm (reading included)."
    )
    assert "moved by 0.05 in" in words(STILL, UnitSystem.INCHES)


def test_of_a_picture_nothing_is_said() -> None:
    assert not words(None)
    assert still_part(None) is None


def test_points_of_a_landmark_file_claim_no_measured_sway() -> None:
    unread = evolve(STILL, sway_mm=None)
    assert "landmark file" in words(unread)
    part = still_part(unread)
    assert part is not None
    assert part.sway_mm is None
