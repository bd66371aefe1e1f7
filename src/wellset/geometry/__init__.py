"""Geometry: angles, rotations, pinhole projection. Arrays in, arrays out."""

from wellset.geometry.angles import angle, bend, length
from wellset.geometry.camera import (
    CAMERA_PARAMETERS,
    Camera,
    focal_px_from_35mm,
    project_with_jacobian,
)
from wellset.geometry.rotation import yaw_pitch_roll

__all__ = [
    "CAMERA_PARAMETERS",
    "Camera",
    "angle",
    "bend",
    "focal_px_from_35mm",
    "length",
    "project_with_jacobian",
    "yaw_pitch_roll",
]
