"""Assess: find the set-up that explains the pictures."""

from wellset.assess.camera_check import CameraState, CameraValue, camera_states
from wellset.assess.camera_limits import unfit
from wellset.assess.candidates import Candidate, Solved, Step, candidates
from wellset.assess.expected import Expected, expected, uncertainty_of_proposal
from wellset.assess.fit import Fit, fit, refit
from wellset.assess.from_build import body_knowledge, club_knowledge
from wellset.assess.knowledge import BodyKnowledge, ClubKnowledge, Known
from wellset.assess.misfits import Misfit
from wellset.assess.plate import PlateSays, plate_says
from wellset.assess.problem import Setting
from wellset.assess.projection import Projection, projection
from wellset.assess.quiet import Restless, quiet_means
from wellset.assess.results import judge, judge_all
from wellset.assess.settle import Extra, Outlook, outlook, predicted_sd

__all__ = [
    "BodyKnowledge",
    "CameraState",
    "CameraValue",
    "Candidate",
    "ClubKnowledge",
    "Expected",
    "Extra",
    "Fit",
    "Known",
    "Misfit",
    "Outlook",
    "PlateSays",
    "Projection",
    "Restless",
    "Setting",
    "Solved",
    "Step",
    "body_knowledge",
    "camera_states",
    "candidates",
    "club_knowledge",
    "expected",
    "fit",
    "judge",
    "judge_all",
    "outlook",
    "plate_says",
    "predicted_sd",
    "projection",
    "quiet_means",
    "refit",
    "uncertainty_of_proposal",
    "unfit",
]
