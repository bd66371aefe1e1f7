"""The training loop: as many steps as fit into the time given."""

from __future__ import annotations

import copy
import json
import math
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

import torch
from attrs import frozen
from torch import nn

from training.golfers.pool import LANDMARKS
from training.network.adopt import adopt
from training.network.batches import Batch, Batches
from training.network.checkpoint import load_all, load_average, save_all, save_average
from training.network.losses import Loss, loss
from training.network.net import LandmarkNet
from training.pictures.stock import Stock

WARM_UP_STEPS: Final = 300
LAST_RATE_SHARE: Final = 0.01
LONGEST_MEMORY: Final = 0.999
LARGEST_GRADIENT: Final = 5.0
BATCHES_TO_ADOPT_ON: Final = 2


@frozen(kw_only=True)
class Settings:
    """How to train.

    Parameters
    ----------
    pool, out : pathlib.Path
        Folder of golfers; folder for the weights and the log.
    seconds : float
        Time to train in, counted from when the loop starts.
    device : str
        ``"cuda"`` or ``"cpu"``.
    batch : int
        Pictures a step.
    rate : float
        Largest learning rate.
    progress : (float, float)
        Where in the whole training this run begins and ends, 0 to 1: the learning rate falls
        over the whole.
    golfers : int
        Golfers to wait for before the first step.
    most_steps : int
        Steps after which to stop even if time is left.
    every : float
        Seconds between two lines of the log, and between two looks at the pool.
    seed : int
    resume, begin_from : pathlib.Path, optional
        Everything of an earlier run; or the averaged weights of one (``.pt``) or an exported
        network (``.onnx``) to begin from.
    """

    pool: Path
    out: Path
    seconds: float
    device: str = "cuda"
    batch: int = 128
    rate: float = 2e-3
    progress: tuple[float, float] = (0.0, 1.0)
    golfers: int = 400
    most_steps: int = 10**9
    every: float = 15.0
    seed: int = 1
    resume: Path | None = None
    begin_from: Path | None = None


Watch = Callable[[nn.Module, int], None]
"""Called with the averaged network and the steps made, whenever a line is logged."""


def learning_rate(progress: float, *, steps: int, largest: float) -> float:
    """A cosine over the whole training, after a short rise at the start of each run."""
    fall = 0.5 * (1.0 + math.cos(math.pi * progress))
    rise = min(1.0, (steps + 1) / WARM_UP_STEPS)
    return largest * rise * (LAST_RATE_SHARE + (1.0 - LAST_RATE_SHARE) * fall)


class Trainer:
    """A network, its average, and the batches that it learns from.

    Parameters
    ----------
    settings : Settings
    """

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        torch.manual_seed(settings.seed)
        self.stock = Stock(settings.device, folder=settings.pool)
        _wait_for(self.stock, golfers=settings.golfers)
        self.batches = Batches(self.stock, size=settings.batch, seed=settings.seed)
        self.net = LandmarkNet(len(LANDMARKS)).to(settings.device)
        self.net = self.net.to(memory_format=torch.channels_last)
        self.average = copy.deepcopy(self.net)
        self.optimiser = torch.optim.AdamW(
            self.net.parameters(), settings.rate, weight_decay=1e-2, betas=(0.9, 0.98)
        )
        self.steps = 0
        self._begin()
        self.average.eval()

    def _begin(self) -> None:
        """Take up an earlier run or an exported network, if there is one."""
        if self.settings.resume is not None:
            self.steps = load_all(
                self.settings.resume,
                net=self.net,
                average=self.average,
                optimiser=self.optimiser,
            )
        elif self.settings.begin_from is None:
            return
        elif self.settings.begin_from.suffix == ".pt":
            kept, self.steps = load_average(self.settings.begin_from)
            self.net.load_state_dict(kept.state_dict())
            self.average.load_state_dict(kept.state_dict())
        else:
            first = [self.batches.next().pictures for _ in range(BATCHES_TO_ADOPT_ON)]
            adopt(self.net, self.settings.begin_from, pictures=torch.cat(first))
            self.average.load_state_dict(self.net.state_dict())

    def run(self, *, watch: Watch | None = None) -> None:
        """Train until the time or the steps are used up, then write the weights."""
        settings, begun = self.settings, time.monotonic()
        first, log = self.steps, _Log(settings.out, every=settings.every)
        self.net.train()
        while self.steps - first < settings.most_steps:
            share = (time.monotonic() - begun) / settings.seconds
            if share >= 1.0:
                break
            start, end = settings.progress
            progress = start + (end - start) * share
            rate = learning_rate(progress, steps=self.steps - first, largest=settings.rate)
            result = self._step(self.batches.next(), progress=progress, rate=rate)
            if log.is_due():
                self.stock.refresh()
                log.write(self.steps, result=result, rate=rate, golfers=len(self.stock))
                if watch is not None:
                    watch(self.average, self.steps)
        self.save()

    def _step(self, batch: Batch, *, progress: float, rate: float) -> Loss:
        """One step down the slope."""
        plan = batch.plan
        for group in self.optimiser.param_groups:
            group["lr"] = rate
        half = self.settings.device == "cuda"
        with torch.autocast(self.settings.device, torch.bfloat16, enabled=half):
            answer = self.net(batch.pictures)
        result = loss(
            answer,
            points=plan.points,
            known=plan.known,
            posed=plan.posed,
            readable=plan.readable,
            progress=progress,
        )
        self.optimiser.zero_grad(set_to_none=True)
        result.total.backward()
        nn.utils.clip_grad_norm_(self.net.parameters(), LARGEST_GRADIENT)
        self.optimiser.step()
        self.steps += 1
        self._remember()
        return result

    def _remember(self) -> None:
        """Move the average a little towards the network."""
        share = 1.0 - min(LONGEST_MEMORY, (1.0 + self.steps) / (20.0 + self.steps))
        with torch.no_grad():
            mine, other = self.average.state_dict(), self.net.state_dict()
            numbers = [name for name in mine if mine[name].is_floating_point()]
            torch._foreach_lerp_(  # one call instead of two hundred
                [mine[name] for name in numbers], [other[name] for name in numbers], share
            )

    def save(self) -> None:
        """Write ``all.pt`` to go on from and ``average.pt`` to keep."""
        out = self.settings.out
        out.mkdir(parents=True, exist_ok=True)
        save_all(
            out / "all.pt",
            net=self.net,
            average=self.average,
            optimiser=self.optimiser,
            steps=self.steps,
        )
        save_average(self.average, out / "average.pt", steps=self.steps)


def _wait_for(stock: Stock, *, golfers: int, patience: float = 180.0) -> None:
    """Read the pool until enough golfers are there.

    Raises
    ------
    TimeoutError
        They did not come.
    """
    begun = time.monotonic()
    stock.refresh(wait=True)
    while len(stock) < golfers:
        if time.monotonic() - begun > patience:
            raise TimeoutError(
                f"Only {len(stock)} of {golfers} golfers came to {stock.folder} in "
                f"{patience:.0f} s. Start their makers: python -m training.golfers."
            )
        time.sleep(0.5)
        stock.refresh()


class _Log:
    """Lines about the training, on the screen and in ``log.jsonl``."""

    def __init__(self, folder: Path, *, every: float) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._path = folder / "log.jsonl"
        self._every = every
        self._begun = self._last = time.monotonic()
        self._steps: int | None = None

    def is_due(self) -> bool:
        """Whether the next line is to be written."""
        return time.monotonic() - self._last >= self._every

    def write(self, steps: int, *, result: Loss, rate: float, golfers: int) -> None:
        """Write one line.

        Raises
        ------
        FloatingPointError
            The loss is no number any more.
        """
        now = time.monotonic()
        since = None if self._steps is None else (steps - self._steps) / (now - self._last)
        line = {
            "seconds": round(now - self._begun, 1),
            "steps": steps,
            "loss": round(float(result.total.detach()), 4),
            "rms_px": round(float(result.rms_px), 3),
            "address_right": round(float(result.address_right), 3),
            "rate": float(f"{rate:.3g}"),
            "golfers": golfers,
            "steps_per_second": None if since is None else round(since, 2),
        }
        self._last, self._steps = now, steps
        text = json.dumps(line)
        print(text, flush=True)
        with self._path.open("a", encoding="utf-8") as file:
            file.write(text + "\n")
        if not math.isfinite(line["loss"] or 0.0):
            raise FloatingPointError(f"The loss of step {steps} is no number: stop and look.")
