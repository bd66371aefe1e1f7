"""What the relative units of the standards mean for one student."""

from __future__ import annotations

from wellset.body import ANSUR_MEN, ANSUR_WOMEN, Build, Sex
from wellset.equipment import Club
from wellset.measures import Measured, MeasureResult
from wellset.standards import StudentScale, Yardstick


def shoulder_breadth(build: Build, /) -> Yardstick:
    """Breadth over the bony tips of the shoulders: by tape, or from stature (ANSUR II)."""
    if build.shoulder_breadth is not None:
        return Yardstick(metres=build.shoulder_breadth, sd=0.01)
    surveys = {Sex.MEN: (ANSUR_MEN,), Sex.WOMEN: (ANSUR_WOMEN,)}
    used = surveys.get(build.sex, (ANSUR_MEN, ANSUR_WOMEN))
    fits = [survey.regression("biacromial_breadth") for survey in used]
    values = [one(build.stature) for one in fits]
    mean = sum(values) / len(values)
    between = sum((v - mean) ** 2 for v in values) / len(values)
    within = sum(one.see**2 for one in fits) / len(fits)
    return Yardstick(metres=mean, sd=(between + within) ** 0.5)


def student_scale(build: Build, club: Club, *, stance: MeasureResult | None) -> StudentScale:
    """What the relative units of the standards mean for this student with this club."""
    shoulder = shoulder_breadth(build)
    shoe = build.length("shoe_length")
    stance_yard = (
        Yardstick(metres=max(stance.value, 0.02), sd=stance.sd)
        if isinstance(stance, Measured)
        else shoulder
    )
    return StudentScale(
        stance_width=stance_yard,
        head_length=Yardstick(metres=club.head_length_m, sd=club.head_length_sd_m),
        shoulder_width=shoulder,
        foot_length=Yardstick(metres=shoe.value, sd=shoe.sd),
    )
