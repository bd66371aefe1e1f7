"""Networks to be compared, as files of the product's form."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import onnxruntime
from attrs import frozen
from numpy.typing import NDArray

Array = NDArray[np.float64]

TOGETHER = 8
"""Cut-outs in one call."""


@frozen(kw_only=True, eq=False)
class Answer:
    """What a network says of N cut-outs.

    Parameters
    ----------
    points : (N, 37, 2) array
        Pixels of the cut-out.
    spread : (N, 37, 2) array
        Laplace scales, pixels.
    at_address : (N,) array or None
        Probability; ``None`` from a network that does not tell.
    """

    points: Array
    spread: Array
    at_address: Array | None


class OnnxReader:
    """A network in an ``.onnx`` file.

    Parameters
    ----------
    path : pathlib.Path
    name : str
        What the tables call it.
    """

    def __init__(self, path: Path, *, name: str) -> None:
        self.name = name
        self.megabytes = path.stat().st_size / 1e6
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 2
        options.log_severity_level = 3
        self._session = onnxruntime.InferenceSession(
            str(path), options, providers=["CPUExecutionProvider"]
        )
        told = {each.name for each in self._session.get_outputs()}
        self._outputs = [n for n in ("points", "scale", "at_address") if n in told]

    def read(self, pictures: NDArray[np.uint8]) -> Answer:
        """Read cut-outs ``(N, 320, 320, 3)``, red, green, blue."""
        parts = [
            self._session.run(self._outputs, {"image": _as_input(pictures[i : i + TOGETHER])})
            for i in range(0, len(pictures), TOGETHER)
        ]
        whole = [np.concatenate(each).astype(np.float64) for each in zip(*parts, strict=True)]
        tells = len(whole) == 3
        return Answer(points=whole[0], spread=whole[1], at_address=whole[2] if tells else None)


def _as_input(pictures: NDArray[np.uint8]) -> NDArray[np.float32]:
    channels_first = pictures.transpose(0, 3, 1, 2)
    return np.ascontiguousarray(channels_first, dtype=np.float32) / np.float32(255.0)
