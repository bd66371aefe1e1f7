"""The drawing kernels, compiled for an NVIDIA accelerator (CuPy) or for the processor (g++).

The text in ``cuda/`` is the same for both. On the processor every thread of the
accelerator becomes one turn of a loop: slow, but enough for tests.
"""

from __future__ import annotations

import ctypes
import hashlib
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Final, Protocol

import numpy as np
import torch
from torch import Tensor

from training.pictures.rows import BLOCKS, FIGURE, LINES, PICTURE, SLOTS

FOLDER: Final = Path(__file__).parent / "cuda"
FILES: Final = ("vectors.cuh", "figures.cuh", "scenery.cuh", "shade.cuh")
THREADS: Final = 128


class Kernels(Protocol):
    """Runs a kernel over ``across`` threads for each of ``rows`` pictures or figures."""

    def run(self, name: str, grid: tuple[int, int], *arguments: Tensor | int) -> None:
        """Run the kernel of this name on ``grid`` = (across, rows)."""


def source(*, classes: int, vertex_steps: float, tint_steps: int) -> str:
    """The kernels' text behind the definitions it needs.

    Parameters
    ----------
    classes : int
        Classes of faces (skin, shirt, shaft …).
    vertex_steps : float
        Steps a metre of the golfers' stored vertices.
    tint_steps : int
        The stored tint that means "as it is".
    """
    numbers = {"CLASSES": classes, "SLOTS": SLOTS, "LINES": LINES, "BLOCKS": BLOCKS}
    lines = [f"#define {name} {value}" for name, value in numbers.items()]
    lines += [
        f"#define VERTEX_STEP {1.0 / vertex_steps!r}f",
        f"#define TINT_STEP {1.0 / tint_steps!r}f",
        f"#define NORMAL_STEP {1.0 / 127.0!r}f",
    ]
    text = [(FOLDER / name).read_text(encoding="utf-8") for name in FILES]
    return "\n".join([*lines, PICTURE.definitions(), FIGURE.definitions(), *text])


def kernels_for(device: str, *, text: str) -> Kernels:
    """The kernels on ``"cuda"`` or ``"cpu"``."""
    return AcceleratorKernels(text) if device == "cuda" else ProcessorKernels(text)


class AcceleratorKernels:
    """The kernels on an NVIDIA accelerator."""

    def __init__(self, text: str) -> None:
        import cupy  # noqa: PLC0415  only where there is an accelerator

        self._cupy = cupy
        module = cupy.RawModule(
            code=text, options=("-std=c++14", "--use_fast_math"), backend="nvrtc"
        )
        self._functions = {name: module.get_function(name) for name in _signatures(text)}

    def run(self, name: str, grid: tuple[int, int], *arguments: Tensor | int) -> None:
        """Run a kernel; see :class:`Kernels`."""
        across, rows = grid
        passed = tuple(
            np.uint64(each.data_ptr()) if isinstance(each, Tensor) else np.int32(each)
            for each in arguments
        )
        stream = torch.cuda.current_stream().cuda_stream
        with self._cupy.cuda.ExternalStream(stream):
            self._functions[name]((-(-across // THREADS), rows), (THREADS,), passed)


class ProcessorKernels:
    """The kernels as loops on the processor.

    Raises
    ------
    FileNotFoundError
        There is no ``g++`` on this machine.
    """

    def __init__(self, text: str) -> None:
        self._library = ctypes.CDLL(str(_built(text + _loops(text))))

    def run(self, name: str, grid: tuple[int, int], *arguments: Tensor | int) -> None:
        """Run a kernel; see :class:`Kernels`."""
        passed = [
            ctypes.c_void_p(each.data_ptr()) if isinstance(each, Tensor) else each
            for each in arguments
        ]
        self._library[f"loop_{name}"](*grid, *passed)


def _signatures(text: str) -> dict[str, str]:
    """Parameters of each kernel, by its name."""
    found = re.findall(r"^KERNEL (\w+)\(([^)]*)\)", text, flags=re.MULTILINE)
    return {name: " ".join(parameters.split()) for name, parameters in found}


def _loops(text: str) -> str:
    """A function for each kernel that runs it once for every thread of a grid."""
    loops = []
    for name, parameters in _signatures(text).items():
        names = ", ".join(re.findall(r"(\w+)(?:,|$)", parameters))
        loops.append(
            f'extern "C" void loop_{name}(int across, int rows_, {parameters}) {{\n'
            "  blockDim.x = 1; threadIdx.x = 0;\n"
            "  for (int r = 0; r < rows_; r++)\n"
            "    for (int a = 0; a < across; a++) {\n"
            f"      blockIdx.x = a; blockIdx.y = r; {name}({names});\n"
            "    }\n}\n"
        )
    return "\n".join(loops)


def _built(text: str) -> Path:
    """The shared library of a text, compiled at its first use and kept for the next."""
    compiler = shutil.which("g++")
    if compiler is None:
        raise FileNotFoundError(
            "Drawing on the processor needs g++, and this machine has none. "
            "Install it, or run on an accelerator."
        )
    name = hashlib.sha256(text.encode()).hexdigest()[:16]
    folder = Path(tempfile.gettempdir()) / f"drawing-kernels-{os.getuid()}"
    folder.mkdir(mode=0o700, exist_ok=True)
    library = folder / f"{name}.so"
    if not library.exists():
        code, fresh = folder / f"{name}.cpp", folder / f"{name}.{os.getpid()}.so"
        code.write_text(text, encoding="utf-8")
        options = ["-O2", "-ffast-math", "-fno-finite-math-only", "-DON_PROCESSOR"]
        subprocess.run(
            [compiler, *options, "-shared", "-fPIC", "-o", str(fresh), str(code)], check=True
        )
        fresh.rename(library)
    return library
