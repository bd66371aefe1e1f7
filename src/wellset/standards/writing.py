"""Standards back to text, and the digest a lesson remembers."""

from __future__ import annotations

import json
from hashlib import sha256

import yaml

from wellset.standards.values import SCHEMA, Standard, Standards

Plain = dict[str, object]


def to_yaml(standards: Standards) -> str:
    """The standards as a file, every shot written out in full (``like`` is resolved)."""
    return yaml.safe_dump(_plain(standards), sort_keys=False, allow_unicode=True, width=96)


def digest_of(standards: Standards) -> str:
    """SHA-256 of the canonical form: meaning, not layout, comments or ``like``."""
    text = json.dumps(_plain(standards), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()


def _plain(standards: Standards) -> Plain:
    return {
        "schema": SCHEMA,
        "name": standards.name,
        "club_heads_count": standards.heads.value,
        "decision": {
            "inside_at_least": float(standards.decision.inside_at_least),
            "outside_at_most": float(standards.decision.outside_at_most),
        },
        "order": [
            {"station": station.name, "measures": list(station.measures)}
            for station in standards.stations
        ],
        "shots": {
            shot.value: {measure: _window(standard) for measure, standard in windows.items()}
            for shot, windows in standards.shots.items()
        },
    }


def _window(standard: Standard) -> Plain:
    limits = {
        name: float(value)
        for name, value in (
            ("low", standard.low),
            ("high", standard.high),
            ("target", standard.target),
        )
        if value is not None
    }
    return {
        **limits,
        "unit": standard.unit.value,
        "weight": float(standard.weight),
        "reason": standard.reason,
        "source": standard.source,
    }
