"""Tables as Parquet files, written by hand.

The libraries that write Parquet weigh twelve to forty megabytes. A table of texts, numbers and
truths needs a fraction of the format: one row group, optional columns, plain encoding, pages
packed by gzip. After the specification of Apache Parquet 2.10 (``parquet.thrift``,
``Encodings.md``) and Thrift's compact protocol (``thrift-compact-protocol.md``); what comes out
is read back by an independent program in the tests.
"""

from __future__ import annotations

import gzip
import struct
from collections.abc import Mapping, Sequence
from enum import IntEnum
from typing import Final

from attrs import frozen

Cell = str | float | bool | None

_MAGIC: Final = b"PAR1"
_OPTIONAL, _PLAIN, _RLE, _GZIP, _UTF8, _DATA_PAGE = 1, 0, 3, 2, 0, 0
_I32, _I64, _BINARY, _LIST, _STRUCT = 5, 6, 8, 9, 12
"""Types of the compact protocol."""


class Kind(IntEnum):
    """What a column holds, by Parquet's number of its physical type."""

    TRUTH = 0
    NUMBER = 5
    TEXT = 6


@frozen(kw_only=True)
class Column:
    """A column's name, kind and cells; ``None`` is absent."""

    name: str
    kind: Kind
    cells: Sequence[Cell]


class _I32Value(int):
    """A 32-bit whole number in a structure; plain ones are 64-bit."""


_Value = int | _I32Value | bytes | Mapping[int, "_Value"] | Sequence["_Value"]


def _varint(value: int) -> bytes:
    out = bytearray()
    while value > 0x7F:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    out.append(value)
    return bytes(out)


def _type(value: _Value) -> int:
    if isinstance(value, bytes):
        return _BINARY
    if isinstance(value, int):
        return _I32 if isinstance(value, _I32Value) else _I64
    return _STRUCT if isinstance(value, Mapping) else _LIST


def _encode(value: _Value) -> bytes:
    """A value in the compact protocol; fields of structures by their numbers."""
    if isinstance(value, bytes):
        return _varint(len(value)) + value
    if isinstance(value, int):
        return _varint(value << 1 if value >= 0 else (-value << 1) - 1)
    if isinstance(value, Mapping):
        out, last = bytearray(), 0
        for number, each in sorted(value.items()):
            out.append((number - last) << 4 | _type(each))  # our gaps stay below sixteen
            out += _encode(each)
            last = number
        return bytes(out) + b"\0"
    kind = _type(value[0]) if value else _STRUCT
    few = len(value) < 0xF
    head = bytes([len(value) << 4 | kind]) if few else bytes([0xF0 | kind]) + _varint(len(value))
    return head + b"".join(map(_encode, value))


def _bits(flags: Sequence[bool]) -> bytes:
    """Eight to a byte, the first one lowest."""
    padded = [*flags, *[False] * (-len(flags) % 8)]
    return bytes(
        sum(flag << place for place, flag in enumerate(padded[start : start + 8]))
        for start in range(0, len(padded), 8)
    )


def _levels(present: Sequence[bool]) -> bytes:
    """Which cells are there, as one bit-packed run with its length before it."""
    packed = _bits(present)
    run = _varint(len(packed) << 1 | 1) + packed
    return struct.pack("<I", len(run)) + run


def _values(column: Column) -> bytes:
    cells = [cell for cell in column.cells if cell is not None]
    if column.kind is Kind.TRUTH:
        return _bits([bool(cell) for cell in cells])
    if column.kind is Kind.NUMBER:
        return struct.pack(f"<{len(cells)}d", *cells)
    texts = [str(cell).encode() for cell in cells]
    return b"".join(struct.pack("<I", len(text)) + text for text in texts)


@frozen(kw_only=True, eq=False)
class _Chunk:
    data: bytes
    plain_size: int
    kind: Kind
    name: str
    count: int

    def described(self, at: int) -> dict[int, _Value]:
        """The column's entry in the footer (``ColumnChunk``)."""
        return {
            2: at,
            3: {
                1: _I32Value(self.kind),
                2: [_I32Value(_PLAIN), _I32Value(_RLE)],
                3: [self.name.encode()],
                4: _I32Value(_GZIP),
                5: self.count,
                6: self.plain_size,
                7: len(self.data),
                9: at,
            },
        }


def _chunk(column: Column) -> _Chunk:
    page = _levels([cell is not None for cell in column.cells]) + _values(column)
    packed = gzip.compress(page, mtime=0)
    header = _encode(
        {
            1: _I32Value(_DATA_PAGE),
            2: _I32Value(len(page)),
            3: _I32Value(len(packed)),
            5: {
                1: _I32Value(len(column.cells)),
                2: _I32Value(_PLAIN),
                3: _I32Value(_RLE),
                4: _I32Value(_RLE),
            },
        }
    )
    return _Chunk(
        data=header + packed,
        plain_size=len(header) + len(page),
        kind=column.kind,
        name=column.name,
        count=len(column.cells),
    )


def _schema(columns: Sequence[Column]) -> list[_Value]:
    root: dict[int, _Value] = {4: b"table", 5: _I32Value(len(columns))}
    return [root, *(_element(column) for column in columns)]


def _element(column: Column) -> dict[int, _Value]:
    element: dict[int, _Value] = {
        1: _I32Value(column.kind),
        3: _I32Value(_OPTIONAL),
        4: column.name.encode(),
    }
    if column.kind is Kind.TEXT:
        element |= {6: _I32Value(_UTF8), 10: {1: {}}}
    return element


def parquet_bytes(columns: Sequence[Column], /, *, made_by: str) -> bytes:
    """A table as a Parquet file.

    Parameters
    ----------
    columns : sequence of Column
        All of one length.
    made_by : str
        Program and version.
    """
    count = len(columns[0].cells)
    if any(len(column.cells) != count for column in columns):
        raise ValueError("the columns have different lengths")
    out, entries, size = bytearray(_MAGIC), [], 0
    for chunk in map(_chunk, columns):
        entries.append(chunk.described(len(out)))
        out += chunk.data
        size += chunk.plain_size
    groups: list[_Value] = [{1: entries, 2: size, 3: count}] if count else []
    footer = _encode(
        {1: _I32Value(2), 2: _schema(columns), 3: count, 4: groups, 6: made_by.encode()}
    )
    return bytes(out) + footer + struct.pack("<I", len(footer)) + _MAGIC
