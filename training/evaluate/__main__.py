"""Compare landmark networks on scenes with exact truth.

    python -m training.evaluate SCENES new.onnx --against old.onnx --pool POOL --json out.json

SCENES is a folder of scenes, or a file of cut-outs that ``--keep`` wrote.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path

from training.evaluate.crops import Crops, read_scenes
from training.evaluate.readers import OnnxReader
from training.evaluate.report import as_text, measured


def main(arguments: Sequence[str] | None = None) -> None:
    """Do what the command line says."""
    asked = _parser().parse_args(arguments)
    scenes = read_scenes(asked.scenes) if asked.scenes.is_dir() else Crops.load(asked.scenes)
    if asked.keep is not None:
        scenes.save(asked.keep)
    paths = [asked.network, *([asked.against] if asked.against else [])]
    names = ["new", "old"] if asked.against else ["network"]
    readers = [OnnxReader(path, name=name) for path, name in zip(paths, names, strict=True)]
    report = measured(readers, scenes=scenes, pool=asked.pool)
    print(as_text(report))
    if asked.json is not None:
        asked.json.write_text(json.dumps(report, indent=1) + "\n", encoding="utf-8")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m training.evaluate", description=__doc__)
    parser.add_argument("scenes", type=Path, help="folder of scenes, or a file of cut-outs")
    parser.add_argument("network", type=Path, metavar="FILE.ONNX")
    parser.add_argument("--against", type=Path, metavar="FILE.ONNX", help="an older network")
    parser.add_argument("--pool", type=Path, help="golfers to draw, not trained on")
    parser.add_argument("--json", type=Path, help="write all figures here too")
    parser.add_argument("--keep", type=Path, metavar="FILE.NPZ", help="keep the cut-outs")
    return parser


if __name__ == "__main__":
    main()
