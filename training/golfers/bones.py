"""Names of the rig's bones by limb."""

from __future__ import annotations

SIDES = ("L", "R")
"""Left and right, the golfer's own, as the rig's bones end."""


def arm_bones(side: str, *, hand: bool = True) -> tuple[str, ...]:
    """Names of one arm's bones, for `Figure.share`."""
    arm = ("upperarm01", "upperarm02", "lowerarm01", "lowerarm02", "wrist")
    fingers = [f"finger{f}-{j}" for f in range(1, 6) for j in range(1, 4)]
    palm = [f"metacarpal{k}" for k in range(1, 5)]
    return tuple(f"{name}.{side}" for name in (*arm, *((*fingers, *palm) if hand else ())))


def foot_bones(side: str) -> tuple[str, ...]:
    """Names of one foot's bones, for `Figure.share`."""
    joints = {1: 2, 2: 3, 3: 3, 4: 3, 5: 3}
    toes = [f"toe{t}-{j}.{side}" for t, n in joints.items() for j in range(1, n + 1)]
    return (f"foot.{side}", *toes)
