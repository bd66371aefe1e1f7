"""The coach's standards: windows for measures, by kind of shot, in a file to edit."""

from wellset.standards.defaults import default_text
from wellset.standards.problems import Problem, StandardsFileError
from wellset.standards.reading import default_standards, load_standards
from wellset.standards.scale import HeadsCount, StudentScale, WrittenUnit, Yardstick
from wellset.standards.shots import Shot, shot_for, shot_named
from wellset.standards.values import (
    COMMON_PRACTICE,
    SCHEMA,
    Decision,
    Standard,
    Standards,
    Station,
    Window,
)
from wellset.standards.writing import digest_of, to_yaml

__all__ = [
    "COMMON_PRACTICE",
    "SCHEMA",
    "Decision",
    "HeadsCount",
    "Problem",
    "Shot",
    "Standard",
    "Standards",
    "StandardsFileError",
    "Station",
    "StudentScale",
    "Window",
    "WrittenUnit",
    "Yardstick",
    "default_standards",
    "default_text",
    "digest_of",
    "load_standards",
    "shot_for",
    "shot_named",
    "to_yaml",
]
