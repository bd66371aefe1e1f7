"""A network between two: every weight a mean of those of a network and of its descendant.

A network trained on from another's weights is better at what is new and worse at what the
first was made for; means of the two lose little of either (Wortsman et al. 2022, "Robust
fine-tuning of zero-shot models", doi 10.1109/CVPR52688.2022.00780). The part that tells of
address exists in the descendant only and reads what the means changed, so it is fitted anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

import numpy as np
import onnx
import onnxruntime
import torch
from numpy.typing import NDArray
from onnx import helper, numpy_helper
from torch import Tensor, nn
from torch.nn import functional

from training.network.adopt import FIRST_NAMES, exported
from training.network.batches import Batches

Array = NDArray[np.float32]

ADDRESS: Final = "net.address"
HIDDEN: Final = 64
FIT_STEPS: Final = 1500
FIT_RATE: Final = 1e-3
FIT_DECAY: Final = 1e-2
SMOOTHED: Final = 0.01
"""Labels are taken this far from 0 and 1, so that no probability claims more."""


def blend(newer: Path, older: Path, *, share: float, out: Path) -> None:
    """Write a network whose weights are means of those of two exported ones.

    Parameters
    ----------
    newer : pathlib.Path
        An exported network; the result has its form.
    older : pathlib.Path
        The exported network that it was begun from.
    share : float
        How much of the older network, 0 to 1.
    out : pathlib.Path
        The file to write.
    """
    model = onnx.load(str(newer))
    first = _by_place(older)
    places = _places(newer)
    for weight in model.graph.initializer:
        place = places.get(weight.name.removesuffix("_half"))
        if place is None or place not in first:
            continue
        array = numpy_helper.to_array(weight)
        other = first[place].reshape(array.shape)
        mean = (1.0 - share) * array.astype(np.float32) + share * other
        weight.CopyFrom(numpy_helper.from_array(mean.astype(array.dtype), weight.name))
    onnx.save(model, str(out))


def _places(path: Path) -> dict[str, str]:
    """What each weight of an exported network is, by its name in the file.

    Folded convolutions have names without meaning: they are told by their order.
    """
    graph = onnx.load(str(path)).graph
    used = [list(node.input)[1:] for node in graph.node if node.op_type == "Conv"]
    places = {
        name: f"convolution {i} {part}"
        for i, names in enumerate(used)
        for part, name in zip(("weight", "bias"), names, strict=True)
    }
    for old, new in FIRST_NAMES.items():
        places |= {old: places.get(old, new), f"net.{new}": places.get(f"net.{new}", new)}
    return places


def _by_place(path: Path) -> dict[str, Array]:
    weights, _ = exported(path)
    places = _places(path)
    return {places[name]: array for name, array in weights.items() if name in places}


def fit_address(path: Path, *, batches: Batches, pictures: int) -> float:
    """Fit the part that tells of address to what the rest of the network now sees.

    Parameters
    ----------
    path : pathlib.Path
        An exported network; its file is changed.
    batches : Batches
        Supply of pictures.
    pictures : int
        How many to fit to.

    Returns
    -------
    float
        Share of those pictures whose answer is right.
    """
    seen = list(_seen(path, batches=batches, pictures=pictures))
    summaries = torch.cat([each for each, _ in seen])
    labels = torch.cat([each for _, each in seen]).float()
    head = nn.Sequential(nn.Linear(summaries.shape[1], HIDDEN), nn.ReLU(), nn.Linear(HIDDEN, 1))
    middle, spread = summaries.mean(0), summaries.std(0) + 1e-3
    fitted = _fitted(head, summaries=(summaries - middle) / spread, labels=labels)
    with torch.no_grad():  # the scaling goes into the first layer
        head[0].weight /= spread
        head[0].bias -= head[0].weight @ middle
    _put(path, head=head)
    return fitted


def _fitted(head: nn.Module, *, summaries: Tensor, labels: Tensor) -> float:
    torch.manual_seed(1)
    optimiser = torch.optim.AdamW(head.parameters(), FIT_RATE, weight_decay=FIT_DECAY)
    soft = labels * (1.0 - 2.0 * SMOOTHED) + SMOOTHED
    for _ in range(FIT_STEPS):
        optimiser.zero_grad()
        told = functional.binary_cross_entropy_with_logits(head(summaries)[:, 0], soft)
        told.backward()
        optimiser.step()
    with torch.no_grad():
        right = (head(summaries)[:, 0] > 0.0) == (labels > 0.5)
    return float(right.float().mean())


def _seen(path: Path, *, batches: Batches, pictures: int) -> Iterator[tuple[Tensor, Tensor]]:
    """What the part that tells of address reads, and the truth, batch by batch."""
    model = onnx.load(str(path))
    read = next(n for n in model.graph.node if f"{ADDRESS}.0.weight" in n.input).input[0]
    model.graph.output.append(helper.make_tensor_value_info(read, onnx.TensorProto.FLOAT, None))
    session = onnxruntime.InferenceSession(
        model.SerializeToString(), providers=["CPUExecutionProvider"]
    )
    for _ in range(-(-pictures // batches.size)):
        batch = batches.next()
        (summary,) = session.run([read], {"image": batch.pictures.contiguous().cpu().numpy()})
        yield torch.from_numpy(summary), batch.plan.at_address.cpu()


def _put(path: Path, *, head: nn.Sequential) -> None:
    """Write the fitted part into the file."""
    model = onnx.load(str(path))
    fitted = {f"{ADDRESS}.{name}": each.numpy() for name, each in head.state_dict().items()}
    for weight in model.graph.initializer:
        if weight.name in fitted:
            weight.CopyFrom(numpy_helper.from_array(fitted[weight.name], weight.name))
    onnx.save(model, str(path))
