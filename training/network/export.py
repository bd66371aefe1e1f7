"""The network as the file that the product reads."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Final

import numpy as np
import onnx
import torch
from onnx import TensorProto, helper, numpy_helper
from torch import Tensor, nn

from training.network.net import SIZE, LandmarkNet

OUTPUTS: Final = ("points", "scale", "at_address")
OPSET: Final = 17
HALVED_ABOVE: Final = 20_000
"""Numbers in a weight from which on it is stored in half precision."""


class _Told(nn.Module):  # type: ignore[misc]  # torch is not read by the type checker
    """The network with the outputs of the product."""

    def __init__(self, net: LandmarkNet) -> None:
        super().__init__()
        self.net = net

    def forward(self, image: Tensor) -> tuple[Tensor, Tensor, Tensor]:
        """Points, spreads, and the probability of a golfer at address."""
        points, spread, odds, _ = self.net(image)
        return points, spread, torch.sigmoid(odds)


def export(net: LandmarkNet, path: Path) -> int:
    """Write the network as ONNX with large weights in half precision.

    Input ``image`` (N, 3, 320, 320), red, green, blue, 0 to 1. Outputs ``points`` and
    ``scale`` (N, K, 2) in pixels, ``at_address`` (N,).

    Parameters
    ----------
    net : LandmarkNet
    path : pathlib.Path

    Returns
    -------
    int
        Bytes of the file.
    """
    told = _Told(net).eval()
    whole = path.with_suffix(".whole.onnx")
    with warnings.catch_warnings():
        # The older exporter is the one that folds normalisations and asks for no compiler.
        warnings.simplefilter("ignore", DeprecationWarning)
        torch.onnx.export(
            told,
            (torch.zeros(1, 3, SIZE, SIZE),),
            str(whole),
            input_names=["image"],
            output_names=list(OUTPUTS),
            dynamic_axes={name: {0: "n"} for name in ("image", *OUTPUTS)},
            opset_version=OPSET,
            dynamo=False,
        )
    model = onnx.load(str(whole))
    _halve(model.graph)
    onnx.checker.check_model(model)
    onnx.save(model, str(path))
    whole.unlink()
    return path.stat().st_size


def _halve(graph: onnx.GraphProto) -> None:
    """Store large weights in half precision; a node turns each back when the file is loaded."""
    casts = []
    for weight in list(graph.initializer):
        array = numpy_helper.to_array(weight)
        if array.dtype != np.float32 or array.size <= HALVED_ABOVE:
            continue
        name = f"{weight.name}_half"
        half = numpy_helper.from_array(array.astype(np.float16), name)
        casts.append(helper.make_node("Cast", [name], [weight.name], to=TensorProto.FLOAT))
        graph.initializer.remove(weight)
        graph.initializer.append(half)
    nodes = list(graph.node)
    del graph.node[:]
    graph.node.extend([*casts, *nodes])
