from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.integration.storage.test_book import LESSON, SETUP, fill
from wellset.errors import InputError, OutputError, StorageError
from wellset.storage import FolderMedia, SqlBook, back_up, restore, sqlite_url, upgrade


def test_a_backup_restores_the_whole_book_into_either_database(
    book: SqlBook, url: str, tmp_path: Path
) -> None:
    fill(book)
    media = FolderMedia(tmp_path / "media")
    kept = media.keep(iter([b"a picture"]), most=100)
    written = back_up(url, media=media, goal=tmp_path / "book.zip")
    assert (written.students, written.lessons, written.media) == (1, 1, 1)

    goal = sqlite_url(tmp_path / "new.db")
    upgrade(goal)
    new_media = FolderMedia(tmp_path / "new media")
    assert restore(goal, media=new_media, source=tmp_path / "book.zip") == written
    with SqlBook(goal).reading() as there, book.reading() as here:
        assert there.student("robin") == here.student("robin")
        assert there.lesson(LESSON.id) == here.lesson(LESSON.id)
        assert there.setup(SETUP.id) == here.setup(SETUP.id)
        assert there.readings_of("robin") == here.readings_of("robin")
    assert new_media.path(kept.media).read_bytes() == b"a picture"


def test_a_book_with_students_is_never_written_over(
    book: SqlBook, url: str, tmp_path: Path
) -> None:
    fill(book)
    media = FolderMedia(tmp_path / "media")
    back_up(url, media=media, goal=tmp_path / "book.zip")
    with pytest.raises(StorageError, match="not empty"):
        restore(url, media=media, source=tmp_path / "book.zip")
    with book.reading() as pages:
        assert pages.student("robin").version == 1


@pytest.mark.parametrize("spoil", ["no zip", "another zip", "cut off", "other bytes", "missing"])
def test_a_file_that_is_no_whole_backup_changes_nothing(tmp_path: Path, spoil: str) -> None:
    source = tmp_path / "book.zip"
    old = sqlite_url(tmp_path / "old.db")
    upgrade(old)
    media = FolderMedia(tmp_path / "media")
    kept = media.keep(iter([b"a picture"]), most=100)
    if spoil != "missing":
        back_up(old, media=media, goal=source)
    if spoil == "no zip":
        source.write_bytes(b"hello")
    elif spoil == "another zip":
        with zipfile.ZipFile(source, "w") as archive:
            archive.writestr("hello", "you")
    elif spoil == "cut off":
        source.write_bytes(source.read_bytes()[:-200])
    elif spoil == "other bytes":
        source.write_bytes(source.read_bytes().replace(b"a picture", b"b picture"))
    url = sqlite_url(tmp_path / "new.db")
    upgrade(url)
    new_media = FolderMedia(tmp_path / "new media")
    with pytest.raises(InputError, match="This backup cannot be restored"):
        restore(url, media=new_media, source=source)
    with SqlBook(url).reading() as pages:
        assert pages.find_students().total == 0
    assert list(new_media.all()) == []
    assert kept.media in media.all()


def test_a_backup_that_cannot_be_written_leaves_no_half_file(tmp_path: Path) -> None:
    url = sqlite_url(tmp_path / "book.db")
    upgrade(url)
    with pytest.raises(OutputError, match="cannot be written"):
        back_up(url, media=FolderMedia(tmp_path / "m"), goal=tmp_path / "no folder" / "b.zip")
