"""What a coach should know about the clip a measurement comes from."""

from __future__ import annotations

from typing import Final

from wellset.figure.notes import Note
from wellset.figure.still import StillMoment
from wellset.vision.clips import MOST_SECONDS, Clip, Samples

SHORT_S: Final = 0.6
SHAKEN_MM: Final = 60.0
"""A shorter still moment, and a camera that moved by more over it, are remarked on (own
choices)."""


def film_notes(moment: StillMoment, *, clip: Clip, samples: Samples) -> tuple[Note, ...]:
    """Remarks on a clip and its still moment.

    Parameters
    ----------
    moment : StillMoment
    clip : Clip
    samples : Samples
    """
    notes = (
        _several(moment, name=clip.name),
        _no_swing(moment, name=clip.name),
        _short(moment, name=clip.name),
        _shaken(moment, name=clip.name),
        _long(clip, samples=samples),
        _broken(clip, samples=samples),
    )
    return tuple(note for note in notes if note is not None)


def _several(moment: StillMoment, *, name: str) -> Note | None:
    count = len(moment.set_ups)
    if count == 1:
        return None
    listed = ", ".join(
        f"{number} from {each.start_s:.1f} to {each.end_s:.1f} s"
        for number, each in enumerate(moment.set_ups, start=1)
    )
    other = next(n for n in range(1, count + 1) if n != moment.chosen)
    return Note(
        code="several_set_ups",
        message=f"The clip shows {count} set-ups (still: {listed}); number {moment.chosen} was "
        "measured.",
        remedy="To measure another, choose its number or a time to look from "
        f"(--swing {other}, say, or --start).",
        where=name,
    )


def _no_swing(moment: StillMoment, *, name: str) -> Note | None:
    if moment.then_moves:
        return None
    return Note(
        code="no_swing_follows",
        message=f"No swing follows the still moment up to {moment.window.end_s:.1f} s that was "
        "measured.",
        remedy="Check in the picture that this is the set-up; let the recording run on into the "
        "swing next time.",
        where=name,
    )


def _short(moment: StillMoment, *, name: str) -> Note | None:
    if moment.window.length_s >= SHORT_S:
        return None
    return Note(
        code="still_moment_short",
        message=f"The golfer stands still for only {moment.window.length_s:.1f} s before the "
        "club moves.",
        remedy="Have the student hold the set-up for a second, or compare with a picture.",
        where=name,
    )


def _shaken(moment: StillMoment, *, name: str) -> Note | None:
    if moment.shake_mm <= SHAKEN_MM:
        return None
    return Note(
        code="camera_shaken",
        message=f"The camera moved by {moment.shake_mm / 10.0:.0f} cm (at the golfer's distance) "
        "while the golfer stood still; that was taken off, but it makes points less sharp.",
        remedy="Put the phone on a stand or lean it against something.",
        where=name,
    )


def _long(clip: Clip, *, samples: Samples) -> Note | None:
    end = float(samples.times_s[-1])
    if samples.broke_off or clip.length_s - end <= MOST_SECONDS / samples.count + 1.0:
        return None
    return Note(
        code="clip_looked_at_in_part",
        message=f"The clip is {clip.length_s:.0f} s long; only {samples.times_s[0]:.0f} to "
        f"{end:.0f} s were looked through.",
        remedy="Choose a time to look from (--start), or cut the clip.",
        where=clip.name,
    )


def _broken(clip: Clip, *, samples: Samples) -> Note | None:
    if not samples.broke_off:
        return None
    return Note(
        code="clip_broken_off",
        message=f"The file can be decoded up to {samples.times_s[-1]:.1f} of {clip.length_s:.1f} "
        "s only; it is damaged or cut short.",
        remedy="Copy the clip again from the phone.",
        where=clip.name,
    )
