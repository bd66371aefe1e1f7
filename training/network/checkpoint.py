"""Weights on disk: everything to go on from, or the average alone to keep."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import torch
from torch import Tensor, nn

from training.golfers.pool import LANDMARKS
from training.network.net import LandmarkNet

HALVED_ABOVE: Final = 20_000
"""Numbers in a tensor from which on half precision is kept."""


def save_average(average: nn.Module, path: Path, *, steps: int) -> None:
    """Write the averaged weights, large ones in half precision (14 MB).

    Parameters
    ----------
    average : torch.nn.Module
    path : pathlib.Path
    steps : int
        Steps of training that made them.
    """
    kept = {name: _halved(each) for name, each in average.state_dict().items()}
    torch.save({"average": kept, "steps": steps, "landmarks": list(LANDMARKS)}, path)


def load_average(path: Path) -> tuple[LandmarkNet, int]:
    """The network with the averaged weights of a file, ready to read, and its steps.

    Raises
    ------
    ValueError
        The file is of other landmarks.
    """
    kept = torch.load(path, map_location="cpu", weights_only=True)
    if kept["landmarks"] != list(LANDMARKS):
        raise ValueError(f"{path} holds the weights of other landmarks than today's.")
    net = LandmarkNet(len(LANDMARKS))
    net.load_state_dict({name: _whole(each) for name, each in kept["average"].items()})
    return net.eval(), int(kept["steps"])


def save_all(
    path: Path, *, net: nn.Module, average: nn.Module, optimiser: object, steps: int
) -> None:
    """Write everything that training goes on from."""
    state = {
        "net": net.state_dict(),
        "average": average.state_dict(),
        "optimiser": optimiser.state_dict(),  # type: ignore[attr-defined]
        "steps": steps,
    }
    part = path.with_suffix(".part")
    torch.save(state, part)
    part.replace(path)


def load_all(path: Path, *, net: nn.Module, average: nn.Module, optimiser: object) -> int:
    """Read what :func:`save_all` wrote into the given parts; steps made so far."""
    state = torch.load(path, map_location="cpu", weights_only=True)
    net.load_state_dict(state["net"])
    average.load_state_dict(state["average"])
    optimiser.load_state_dict(state["optimiser"])  # type: ignore[attr-defined]
    return int(state["steps"])


def _halved(tensor: Tensor) -> Tensor:
    large = tensor.is_floating_point() and tensor.numel() > HALVED_ABOVE
    return tensor.half() if large else tensor


def _whole(tensor: Tensor) -> Tensor:
    return tensor.float() if tensor.is_floating_point() else tensor
