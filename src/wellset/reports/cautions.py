"""What every report says about its own limits."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final = (
    (
        "The numbers come from two photographs. Each is given with the range that should hold the "
        "true value 95 times in 100; read the range, not only the number."
    ),
    (
        "The accuracy was measured on rendered people. It is not proven on real ones; the ranges "
        "are widened for that, by a stated amount."
    ),
    (
        "This is not a medical device and gives no medical advice. If a position or a drill hurts, "
        "stop, and see a doctor or a physiotherapist."
    ),
    (
        "Before you photograph a child, have a parent's or guardian's written consent, and follow "
        "the law of the place. Keep the pictures only as long as you need them."
    ),
    (
        "The windows are a coach's standards, not laws of nature. Where a source is known the "
        "standards file names it; the others are common practice."
    ),
)

_MEDICAL: Final = CAUTIONS[2]

PLAN_CAUTIONS: Final = (
    (
        "A plan is worked out from a body's measures, a club and a coach's windows. It is a place "
        "to start from, to be tried and adjusted with a coach, not a finding about this student."
    ),
    (
        "The joints' limits are those of ordinary bodies. Old injuries and stiff joints are known "
        "only as far as they were written down; nobody should force a position to meet a number."
    ),
    _MEDICAL,
    CAUTIONS[4],
)
