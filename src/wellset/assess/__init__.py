"""Assess: find the set-up that explains the pictures."""

from wellset.assess.fit import Fit, Misfit, fit
from wellset.assess.from_build import body_knowledge, club_knowledge
from wellset.assess.knowledge import BodyKnowledge, ClubKnowledge, Known
from wellset.assess.problem import Setting
from wellset.assess.results import judge, judge_all

__all__ = [
    "BodyKnowledge",
    "ClubKnowledge",
    "Fit",
    "Known",
    "Misfit",
    "Setting",
    "body_knowledge",
    "club_knowledge",
    "fit",
    "judge",
    "judge_all",
]
