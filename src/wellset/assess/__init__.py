"""Assess: find the set-up that explains the pictures."""

from wellset.assess.camera_check import CameraState, CameraValue, camera_states
from wellset.assess.expected import Expected, expected, uncertainty_of_proposal
from wellset.assess.fit import Fit, fit, refit
from wellset.assess.from_build import body_knowledge, club_knowledge
from wellset.assess.knowledge import BodyKnowledge, ClubKnowledge, Known
from wellset.assess.misfits import Misfit
from wellset.assess.problem import Setting
from wellset.assess.results import judge, judge_all

__all__ = [
    "BodyKnowledge",
    "CameraState",
    "CameraValue",
    "ClubKnowledge",
    "Expected",
    "Fit",
    "Known",
    "Misfit",
    "Setting",
    "body_knowledge",
    "camera_states",
    "club_knowledge",
    "expected",
    "fit",
    "judge",
    "judge_all",
    "refit",
    "uncertainty_of_proposal",
]
