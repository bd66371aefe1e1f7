"""Train the landmark network, and write its weights as the product's file.

python -m training.network train POOL OUT --minutes 9.5
python -m training.network export OUT/average.pt landmarks.onnx
python -m training.network blend new.onnx old.onnx POOL landmarks.onnx --share 0.8
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

import torch

from training.network.batches import Batches
from training.network.blend import blend, fit_address
from training.network.checkpoint import load_average
from training.network.export import export
from training.network.loop import Settings, Trainer
from training.pictures.stock import Stock


def main(arguments: Sequence[str] | None = None) -> None:
    """Do what the command line says."""
    asked = _parser().parse_args(arguments)
    if asked.command == "export":
        net, steps = load_average(asked.weights)
        size = export(net, asked.file)
        print(f"{asked.file}: {size / 1e6:.1f} MB, after {steps} steps")
    elif asked.command == "blend":
        _blend(asked)
    else:
        _train(asked)


def _blend(asked: argparse.Namespace) -> None:
    blend(asked.newer, asked.older, share=asked.share, out=asked.file)
    stock = Stock("cpu", folder=asked.pool)
    stock.refresh(wait=True)
    batches = Batches(stock, size=16, seed=asked.seed)
    right = fit_address(asked.file, batches=batches, pictures=asked.pictures)
    print(f"{asked.file}: at address or not, {100 * right:.1f} % right of the pictures fitted to")


def _train(asked: argparse.Namespace) -> None:
    torch.backends.cudnn.benchmark = True
    torch.set_float32_matmul_precision("high")
    trainer = Trainer(_settings(asked))
    print(f"{len(trainer.stock)} golfers, {trainer.steps} steps made, on {asked.device}")
    trainer.run()
    print(f"{trainer.steps} steps; weights in {asked.out}")


def _settings(asked: argparse.Namespace) -> Settings:
    return Settings(
        pool=asked.pool,
        out=asked.out,
        seconds=60.0 * asked.minutes,
        device=asked.device,
        batch=asked.batch,
        rate=asked.rate,
        progress=tuple(asked.progress),
        golfers=asked.golfers,
        most_steps=asked.steps,
        seed=asked.seed,
        resume=asked.resume,
        begin_from=asked.begin_from,
    )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m training.network", description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    train = commands.add_parser("train", help="train for a while")
    train.add_argument("pool", type=Path, help="folder of golfers; it may still be growing")
    train.add_argument("out", type=Path, help="folder for weights and log")
    train.add_argument("--minutes", type=float, default=10.0, help="time to train")
    train.add_argument("--steps", type=int, default=10**9, help="steps at most")
    train.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    train.add_argument("--batch", type=int, default=128, help="pictures a step")
    train.add_argument("--rate", type=float, default=2e-3, help="largest learning rate")
    train.add_argument(
        "--progress",
        type=float,
        nargs=2,
        default=(0.0, 1.0),
        metavar=("FROM", "TO"),
        help="this run's part of the whole training, 0 to 1",
    )
    train.add_argument("--golfers", type=int, default=400, help="golfers to wait for")
    train.add_argument("--seed", type=int, default=1)
    train.add_argument("--resume", type=Path, metavar="ALL.PT", help="go on from an earlier run")
    train.add_argument(
        "--begin-from",
        type=Path,
        metavar="FILE",
        help="begin from average.pt or from an exported network",
    )
    written = commands.add_parser("export", help="write weights as the product's file")
    written.add_argument("weights", type=Path, metavar="AVERAGE.PT")
    written.add_argument("file", type=Path, metavar="FILE.ONNX")
    blended = commands.add_parser("blend", help="a network between two")
    blended.add_argument("newer", type=Path, metavar="NEW.ONNX")
    blended.add_argument("older", type=Path, metavar="OLD.ONNX", help="what it was begun from")
    blended.add_argument("pool", type=Path, help="golfers to fit the telling of address to")
    blended.add_argument("file", type=Path, metavar="FILE.ONNX")
    blended.add_argument("--share", type=float, required=True, help="of the older, 0 to 1")
    blended.add_argument("--pictures", type=int, default=2000, help="pictures to fit to")
    blended.add_argument("--seed", type=int, default=1)
    return parser


if __name__ == "__main__":
    main()
