"""The lesson book on disk: a database for what is written, a folder for pictures and clips."""

from wellset.storage.backup import Counted, back_up, restore
from wellset.storage.book import SqlBook
from wellset.storage.engine import sqlite_url
from wellset.storage.media import FolderMedia
from wellset.storage.upgrade import upgrade

__all__ = [
    "Counted",
    "FolderMedia",
    "SqlBook",
    "back_up",
    "restore",
    "sqlite_url",
    "upgrade",
]
