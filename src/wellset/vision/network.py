"""Our own landmark network: 36 points of golfer, club and ball from a square cut-out.

The network was trained on invented right-handed golfers only, seen face-on and
down-the-line. Pictures of left-handers are mirrored before they get here.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from importlib import resources
from typing import Final

import numpy as np
import onnxruntime
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.landmarks import LANDMARKS
from wellset.vision.crops import Cutout, reduce_for
from wellset.vision.values import Array, Float32, Pixels

SIZE: Final = 320
OUTPUTS: Final = ("points", "scale", "at_address")
"""What the file may say; the last is younger than the others and may be missing."""
OWN_NAMES: Final = {
    "T12L1_cloth": "t12",
    "C7_cloth": "c7",
    "T8_cloth": "t8",
    "L3_cloth": "l3",
    "S1_cloth": "s1",
    "sternum_cloth": "sternum",
}
DROPPED: Final = frozenset({"head_top"})
"""``head_top`` was labelled on hair and caps alike, so it means nothing in particular."""


@frozen(kw_only=True, eq=False)
class Answer:
    """What the network says of N cut-outs.

    Parameters
    ----------
    points, spread : (N, 36, 2) arrays
        Points and their Laplace spreads, pixels of the cut-out.
    at_address : (N,) array or None
        Probability that a golfer at address is seen, of a hand and from a side that the
        network knows; ``None`` from a network that does not tell.
    """

    points: Array
    spread: Array
    at_address: Array | None


class LandmarkNetwork:
    """The network, loaded once; safe to call from several threads."""

    def __init__(self, *, threads: int = 1) -> None:
        models = resources.files("wellset.vision") / "models"
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = threads
        options.inter_op_num_threads = 1
        options.log_severity_level = 3
        self._session: onnxruntime.InferenceSession = onnxruntime.InferenceSession(
            (models / "landmarks.onnx").read_bytes(),
            options,
            providers=["CPUExecutionProvider"],
        )
        names = json.loads((models / "landmarks.json").read_text(encoding="utf-8"))
        self._rows = _rows([str(name) for name in names])
        told = {each.name for each in self._session.get_outputs()}
        self._outputs = [name for name in OUTPUTS if name in told]

    def answer(self, crops: Float32) -> Answer:
        """Everything the network says of a stack of cut-outs.

        Parameters
        ----------
        crops : (N, 3, 320, 320) float32 array, 0 to 1, red, green, blue
        """
        said = dict(
            zip(self._outputs, self._session.run(self._outputs, {"image": crops}), strict=True)
        )
        address = said.get("at_address")
        return Answer(
            points=said["points"][:, self._rows].astype(np.float64),
            spread=said["scale"][:, self._rows].astype(np.float64),
            at_address=None if address is None else address.astype(np.float64),
        )

    def run(self, crops: Float32) -> tuple[Array, Array]:
        """Points and Laplace spreads of a stack of cut-outs.

        Parameters
        ----------
        crops : (N, 3, 320, 320) float32 array, 0 to 1, red, green, blue

        Returns
        -------
        points, spread : (N, 36, 2) arrays, pixels of the cut-out
        """
        answer = self.answer(crops)
        return answer.points, answer.spread


def read_cutouts(
    network: LandmarkNetwork, picture: Pixels, *, cutouts: Sequence[Cutout]
) -> tuple[Array, Array]:
    """Points and spreads in picture pixels, ``(N, 36, 2)`` each, one row a cut-out.

    Parameters
    ----------
    network : LandmarkNetwork
    picture : (height, width, 3) uint8 array
    cutouts : sequence of Cutout
        Near each other: they are drawn from one blurred part of the picture.
    """
    part = reduce_for(picture, cutout=cutouts[0])
    drawn = np.stack([part.draw(cutout) for cutout in cutouts])
    points, spread = network.run(
        np.ascontiguousarray(drawn.transpose(0, 3, 1, 2), dtype=np.float32) / np.float32(255.0)
    )
    placed = np.stack(
        [cutout.to_picture(each) for cutout, each in zip(cutouts, points, strict=True)]
    )
    scales = np.array([cutout.scale for cutout in cutouts])
    return placed, spread / scales[:, None, None]


def _rows(names: list[str]) -> NDArray[np.intp]:
    """Rows of the network's output in the order of the project's landmarks.

    The network says left and right for a right-handed golfer: left leads.
    """
    rows: dict[str, int] = {}
    for row, name in enumerate(names):
        if name in DROPPED:
            continue
        stem, _, side = name.rpartition("_")
        if side in {"left", "right"}:
            rows[f"{'lead' if side == 'left' else 'trail'}_{stem}"] = row
        else:
            rows[OWN_NAMES.get(name, name)] = row
    return np.array([rows[name] for name in LANDMARKS])
