"""Video files: upright frames at their own times, and what is refused."""

from __future__ import annotations

from pathlib import Path

import av
import numpy as np
import pytest

from tests.support.films import Pixels, write_clip
from wellset.errors import PictureError
from wellset.vision.clip_files import is_video
from wellset.vision.clips import Clip, Samples, open_clip

CLIP = Path(__file__).parents[2] / "data" / "clips" / "face_on.mp4"
RED = (250, 20, 20)


def cornered(*, width: int = 320, height: int = 256) -> Pixels:
    """Grey, with a red patch in the upper left corner."""
    frame = np.full((height, width, 3), 90, dtype=np.uint8)
    frame[: height // 4, : width // 4] = RED
    return frame


def red_corner(frame: Pixels) -> str:
    """Which corner of a frame is red."""
    half_y, half_x = frame.shape[0] // 2, frame.shape[1] // 2
    red = frame[..., 0].astype(int) - frame[..., 1]
    parts = {
        "upper left": red[:half_y, :half_x],
        "upper right": red[:half_y, half_x:],
        "lower left": red[half_y:, :half_x],
        "lower right": red[half_y:, half_x:],
    }
    return max(parts, key=lambda name: float(parts[name].mean()))


def refusal(path: Path) -> PictureError:
    with pytest.raises(PictureError) as caught:
        open_clip(path).samples()
    assert caught.value.fix
    return caught.value


@pytest.mark.parametrize(
    ("rotation", "corner", "shape"),
    [
        # A display matrix turns the frame counter-clockwise: its upper left corner comes to lie
        # lower left after a quarter turn (ISO/IEC 14496-12; sign as a browser plays the file).
        (90, "lower left", (320, 256)),
        (-90, "upper right", (320, 256)),
        (180, "lower right", (256, 320)),
        (None, "upper left", (256, 320)),
    ],
)
def test_frames_come_upright(
    tmp_path: Path, rotation: int | None, corner: str, shape: tuple[int, int]
) -> None:
    path = write_clip(tmp_path / "turned.mp4", [cornered()] * 6, rotation=rotation)
    clip = open_clip(path)
    samples = clip.samples()
    whole = clip.frames([float(samples.times_s[2])])[0]
    assert (clip.height_px, clip.width_px) == shape
    assert whole.shape[:2] == shape
    assert red_corner(whole) == corner
    assert red_corner(samples.colour[0]) == corner
    assert samples.grey.shape[1:] == samples.colour.shape[1:3]


def test_a_sample_is_the_frame_of_its_time(tmp_path: Path) -> None:
    greys = [20 + 8 * n for n in range(24)]
    frames = [np.full((256, 320, 3), grey, dtype=np.uint8) for grey in greys]
    gaps = np.random.default_rng(2).choice([1 / 30, 1 / 24, 1 / 10], len(frames))
    times = np.concatenate([[0.0], np.cumsum(gaps)[:-1]])
    clip = open_clip(write_clip(tmp_path / "varied.mp4", frames, times_s=times.tolist()))
    samples = clip.samples()
    np.testing.assert_allclose(samples.times_s, times, atol=2e-4)
    later = clip.frames([float(samples.times_s[n]) for n in (3, 9, 20)])
    for number, frame in zip((3, 9, 20), later, strict=True):
        assert frame.mean() == pytest.approx(greys[number], abs=3.0)
        luma = 16.0 + 219.0 / 255.0 * greys[number]  # ITU-R BT.601, limited range
        assert samples.grey[number].mean() == pytest.approx(luma, abs=3.0)


def test_many_frames_a_second_are_thinned_out(tmp_path: Path) -> None:
    path = write_clip(tmp_path / "fast.mp4", [cornered()] * 120, rate=120.0)
    samples = open_clip(path).samples()
    assert samples.step_s == pytest.approx(1 / 30, abs=0.005)


def test_a_later_start_is_read_from_a_little_before_it(tmp_path: Path) -> None:
    path = write_clip(tmp_path / "long.mp4", [cornered()] * 60, rate=10.0)
    samples = open_clip(path).samples(start_s=4.0)
    assert samples.times_s[0] == pytest.approx(3.0, abs=0.11)
    assert samples.times_s[-1] == pytest.approx(5.9, abs=0.01)


def test_hevc_is_read_like_h264(tmp_path: Path) -> None:
    path = write_clip(tmp_path / "new.mov", [cornered()] * 8, codec="libx265")
    assert open_clip(path).samples().count == 8


def test_a_file_cut_short_is_read_as_far_as_it_goes(tmp_path: Path) -> None:
    whole = tmp_path / "front.mp4"
    with (
        av.open(str(CLIP)) as source,
        av.open(str(whole), "w", options={"movflags": "faststart"}) as target,
    ):
        stream = source.streams.video[0]
        copy = target.add_stream_from_template(stream)
        for packet in source.demux(stream):
            if packet.dts is not None:
                packet.stream = copy
                target.mux(packet)
    cut = tmp_path / "cut.mp4"
    cut.write_bytes(whole.read_bytes()[: whole.stat().st_size * 6 // 10])
    samples: Samples = open_clip(cut).samples()
    assert samples.broke_off
    assert 2 <= samples.count < 72


def test_a_file_without_its_index_is_refused_as_cut_short(tmp_path: Path) -> None:
    path = tmp_path / "half.mp4"
    path.write_bytes(CLIP.read_bytes()[:200_000])
    assert "cut short" in refusal(path).why


def test_text_named_as_a_video_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "notes.mp4"
    path.write_text("no video at all, only words " * 9)
    assert is_video(path)
    assert "not a video" in refusal(path).what


def test_a_list_of_other_files_is_never_opened(tmp_path: Path) -> None:
    path = tmp_path / "list.mp4"
    path.write_text("#EXTM3U\n#EXTINF:10,\nhttp://192.0.2.1/clip.ts\n")
    assert "not a video" in refusal(path).what


def test_sound_alone_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "song.mp4"
    with av.open(str(path), "w") as container:
        stream = container.add_stream("aac", rate=44100)
        for number in range(20):
            frame = av.AudioFrame.from_ndarray(
                np.zeros((1, 1024), np.float32), format="fltp", layout="mono"
            )
            frame.rate, frame.pts = 44100, 1024 * number
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
    assert "holds no video" in refusal(path).what


def test_an_unknown_coding_is_refused_with_a_known_one_named(tmp_path: Path) -> None:
    path = tmp_path / "odd.mp4"
    path.write_bytes(CLIP.read_bytes().replace(b"avc1", b"zzzz"))
    assert "H.264" in refusal(path).fix


def test_tiny_frames_are_refused(tmp_path: Path) -> None:
    path = write_clip(tmp_path / "tiny.mp4", [cornered(width=160, height=120)] * 4)
    assert "too small" in refusal(path).what


@pytest.mark.parametrize(
    "content",
    [b"GIF89a" + bytes(64), b"\xff\xd8\xff\xe0" + bytes(64), b""],
    ids=["gif", "jpeg", ""],
)
def test_what_is_no_video_is_left_to_the_reading_of_pictures(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "front.mp4"
    path.write_bytes(content)
    assert not is_video(path)


def test_a_clip_knows_its_length_and_rate() -> None:
    clip: Clip = open_clip(CLIP)
    assert clip.length_s == pytest.approx(72 / 15)
    assert clip.rate == pytest.approx(15.0)
