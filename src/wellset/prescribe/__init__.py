"""Prescribe: the set-up that suits a student, a club, a place and a coach's standards."""

from wellset.prescribe.aims import BALANCE
from wellset.prescribe.changed import changed
from wellset.prescribe.conditions import Shift, Wind, grip_down, moved, shifts
from wellset.prescribe.explain import Explanation, explanations
from wellset.prescribe.faults import fault_value, with_fault
from wellset.prescribe.floor import Floor
from wellset.prescribe.ground import Ground
from wellset.prescribe.holding import HEAD_REACH, TOE_UP, on_the_ground
from wellset.prescribe.ladder import Break, ladder_breaks
from wellset.prescribe.limits import Limits
from wellset.prescribe.plan import Conflict, Plan, Planned, Remedy
from wellset.prescribe.pose import ClubOnGround, Scene
from wellset.prescribe.skeleton import Skeleton, skeleton_of
from wellset.prescribe.solve_plan import solve_bag, solve_plan
from wellset.prescribe.stance_of import skeleton_of_figure, toe_up_of
from wellset.prescribe.task import Task
from wellset.prescribe.what_if import WhatIf, what_if

__all__ = [
    "BALANCE",
    "HEAD_REACH",
    "TOE_UP",
    "Break",
    "ClubOnGround",
    "Conflict",
    "Explanation",
    "Floor",
    "Ground",
    "Limits",
    "Plan",
    "Planned",
    "Remedy",
    "Scene",
    "Shift",
    "Skeleton",
    "Task",
    "WhatIf",
    "Wind",
    "changed",
    "explanations",
    "fault_value",
    "grip_down",
    "ladder_breaks",
    "moved",
    "on_the_ground",
    "shifts",
    "skeleton_of",
    "skeleton_of_figure",
    "solve_bag",
    "solve_plan",
    "toe_up_of",
    "what_if",
    "with_fault",
]
