"""Beginning from the weights of an exported network.

An exported file has every normalisation folded into the convolution before it. To train
on, each convolution takes the folded weights, and the normalisation behind it is set so
that on a given batch it gives exactly what the folded network gave: its scale is the
batch's own spread, its offset the batch's own mean plus the folded bias.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import numpy as np
import onnx
import torch
from numpy.typing import NDArray
from onnx import numpy_helper
from torch import Tensor, nn

from training.network.net import ConvNorm, LandmarkNet

Array = NDArray[np.float32]

FIRST_NAMES: Final = {
    "n.g.weight": "whole.weight",
    "n.g.bias": "whole.bias",
    "n.hm.weight": "heat.weight",
    "n.hm.bias": "heat.bias",
    "n.uw": "spread_weight",
    "n.ub": "spread_bias",
    "n.us": "spread_heat",
}
"""Names in the first exported network, and what they are called now."""


def adopt(net: LandmarkNet, path: Path, *, pictures: Tensor) -> None:
    """Give a new network the weights of an exported one.

    What the exported file does not hold (older ones tell nothing of address) stays new.

    Parameters
    ----------
    net : LandmarkNet
        Changed in place.
    path : pathlib.Path
        An ``.onnx`` file of the same form.
    pictures : (N, 3, 320, 320) tensor
        Pictures like those of the training, a few dozen at least.
    """
    weights, folded = exported(path)
    named = {FIRST_NAMES.get(name, name.removeprefix("net.")): w for name, w in weights.items()}
    own = dict(net.named_parameters())
    with torch.no_grad():
        for name, array in named.items():
            if name in own and own[name].shape == array.shape:
                own[name].copy_(torch.from_numpy(array.copy()))
        blocks = _in_order(net, pictures=pictures[:1])
        for block, (weight, bias) in zip(blocks, folded, strict=True):
            block[0].weight.copy_(torch.from_numpy(weight.copy()))
            block[1].folded = torch.from_numpy(bias.copy()).to(pictures.device)
        hooks = [block[1].register_forward_pre_hook(_fitted) for block in blocks]
        net.train()(pictures)
    for hook in hooks:
        hook.remove()


def exported(path: Path) -> tuple[dict[str, Array], list[tuple[Array, Array]]]:
    """Weights of an exported network by name, and those of its folded convolutions in order.

    Parameters
    ----------
    path : pathlib.Path

    Returns
    -------
    weights : dict of str to float32 array
    folded : list of (float32 array, float32 array)
        Weight and bias of each convolution that had a normalisation behind it.
    """
    graph = onnx.load(str(path)).graph
    arrays = {each.name: numpy_helper.to_array(each) for each in graph.initializer}
    whole = {
        name.removesuffix("_half").removesuffix("_h"): array.astype(np.float32)
        for name, array in arrays.items()
        if array.dtype.kind == "f"
    }
    used = [list(node.input)[1:] for node in graph.node if node.op_type == "Conv"]
    folded = [(whole[weight], whole[bias]) for weight, bias in used]
    # The last convolution makes the heat maps and has no normalisation behind it.
    return whole, folded[:-1]


def _in_order(net: LandmarkNet, *, pictures: Tensor) -> list[ConvNorm]:
    """The network's blocks in the order in which they run."""
    order: list[ConvNorm] = []
    hooks = [
        each.register_forward_pre_hook(lambda module, _: order.append(module))
        for each in net.modules()
        if isinstance(each, ConvNorm)
    ]
    net.eval()(pictures)
    for hook in hooks:
        hook.remove()
    return order


def _fitted(norm: nn.BatchNorm2d, inward: tuple[Any, ...]) -> None:
    """Set a normalisation so that on this batch it only adds the folded bias."""
    values = inward[0].float()
    mean, variance = values.mean((0, 2, 3)), values.var((0, 2, 3), unbiased=False)
    norm.running_mean.copy_(mean)
    norm.running_var.copy_(variance)
    norm.weight.copy_((variance + norm.eps).sqrt())
    norm.bias.copy_(mean + norm.folded)
