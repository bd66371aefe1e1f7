from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from wellset.errors import InputError, MissingError
from wellset.storage import FolderMedia

DATA = b"a picture" * 1000


def test_a_file_is_kept_under_the_digest_of_its_bytes(tmp_path: Path) -> None:
    store = FolderMedia(tmp_path)
    kept = store.keep(iter([DATA[:100], DATA[100:]]), most=10_000)
    assert (kept.media, kept.size) == (hashlib.sha256(DATA).hexdigest(), len(DATA))
    assert store.path(kept.media).read_bytes() == DATA
    assert list(store.all()) == [kept.media]


def test_the_same_bytes_are_kept_once(tmp_path: Path) -> None:
    store = FolderMedia(tmp_path)
    assert store.keep(iter([DATA]), most=10_000) == store.keep(iter([DATA]), most=10_000)
    assert len(list(store.all())) == 1


def test_too_large_a_file_leaves_nothing_behind(tmp_path: Path) -> None:
    store = FolderMedia(tmp_path)
    with pytest.raises(InputError, match="too large"):
        store.keep(iter([DATA]), most=100)
    assert [p for p in tmp_path.rglob("*") if p.is_file()] == []


def test_a_stream_that_breaks_off_leaves_nothing_behind(tmp_path: Path) -> None:
    def broken() -> Iterator[bytes]:
        yield DATA
        raise RuntimeError("the laptop fell asleep")

    with pytest.raises(RuntimeError, match="asleep"):
        FolderMedia(tmp_path).keep(broken(), most=10**6)
    assert [p for p in tmp_path.rglob("*") if p.is_file()] == []


@pytest.mark.parametrize("name", ["../secret", "/etc/passwd", "a" * 63, "A" * 64, ""])
def test_a_name_that_is_no_digest_leads_nowhere(tmp_path: Path, name: str) -> None:
    with pytest.raises(MissingError, match="not in the lesson book"):
        FolderMedia(tmp_path).path(name)
    FolderMedia(tmp_path).remove(name)


def test_a_removed_file_is_gone_and_may_be_removed_again(tmp_path: Path) -> None:
    store = FolderMedia(tmp_path)
    kept = store.keep(iter([DATA]), most=10_000)
    store.remove(kept.media)
    store.remove(kept.media)
    with pytest.raises(MissingError):
        store.path(kept.media)


def test_what_a_killed_program_left_is_swept_a_day_later(tmp_path: Path) -> None:
    for name in ("unfinished-old", "unfinished-new"):
        (tmp_path / name).write_bytes(b"half")
    os.utime(tmp_path / "unfinished-old", (0, 0))
    FolderMedia(tmp_path).sweep()
    assert [path.name for path in tmp_path.iterdir()] == ["unfinished-new"]


@pytest.mark.parametrize(
    ("name", "lent"),
    [("front.jpg", "front.jpg"), ("../../x/y.mp4", "_.._x_y.mp4"), ("...", "picture")],
)
def test_a_file_is_lent_under_its_own_name_without_what_could_be_a_path(
    tmp_path: Path, name: str, lent: str
) -> None:
    store = FolderMedia(tmp_path)
    kept = store.keep(iter([DATA]), most=10_000)
    with store.lend(kept.media, name=name) as path:
        assert path.name == lent
        assert path.resolve().is_relative_to(tmp_path.resolve())
        assert path.read_bytes() == DATA
    assert not path.exists()
    assert store.path(kept.media).read_bytes() == DATA
