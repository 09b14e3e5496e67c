"""Rows read straight off the pages of a damaged SQLite file.

SQLite refuses a file whose header or tree is broken, though most pages are whole. The layout of
pages, cells and records is published ("Database File Format", sqlite.org/fileformat2.html,
sections 1.2, 1.6, 2.1 and 2.2); every page that holds rows is read by itself here, whatever the
pages around it look like. What comes out may be old or garbled: the mark in each row tells.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass

from passbell.journal.rows import Cell
from passbell.journal.schema import PAGE

_LEAF = 0x0D
_INTEGERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
_MOST_LOCAL = PAGE - 35
_LEAST_LOCAL = (PAGE - 12) * 32 // 255 - 23

Record = tuple[Cell | None, ...]


@dataclass(frozen=True, slots=True)
class StoredRow:
    """A row as it lay on a page.

    Attributes:
        rowid: its number in its table.
        cells: its columns; None where SQLite stores nothing or a blob.
    """

    rowid: int
    cells: Record


def stored_rows(data: bytes) -> Iterator[StoredRow]:
    """Every row on every whole page of the file, in the order of the file."""
    for start in range(0, len(data) - PAGE + 1, PAGE):
        yield from _page_rows(data, start)


def _page_rows(data: bytes, start: int) -> Iterator[StoredRow]:
    head = start + (100 if start == 0 else 0)
    if data[head] != _LEAF:
        return
    (count,) = struct.unpack_from(">H", data, head + 3)
    for index in range(min(count, PAGE // 2)):
        place = head + 8 + 2 * index
        if place + 2 > start + PAGE:
            return
        (offset,) = struct.unpack_from(">H", data, place)
        row = _row(data, start, offset)
        if row is not None:
            yield row


def _row(data: bytes, start: int, offset: int) -> StoredRow | None:
    page = data[start : start + PAGE]
    try:
        size, place = _varint(page, offset)
        rowid, place = _varint(page, place)
        return StoredRow(rowid, _record(_payload(data, page[place:], size)))
    except (IndexError, ValueError, struct.error):
        return None


def _payload(data: bytes, rest: bytes, size: int) -> bytes:
    local = _local(size)
    if local == size:
        return rest[:size]
    content = [rest[:local]]
    (page,) = struct.unpack_from(">I", rest, local)
    left = size - local
    while left > 0:
        start = (page - 1) * PAGE
        if page < 1 or start + PAGE > len(data):
            raise ValueError("the rest of the row lies beyond the file")
        (page,) = struct.unpack_from(">I", data, start)
        content.append(data[start + 4 : start + 4 + min(left, PAGE - 4)])
        left -= PAGE - 4
    return b"".join(content)


def _local(size: int) -> int:
    if size <= _MOST_LOCAL:
        return size
    fitting = _LEAST_LOCAL + (size - _LEAST_LOCAL) % (PAGE - 4)
    return fitting if fitting <= _MOST_LOCAL else _LEAST_LOCAL


def _record(payload: bytes) -> Record:
    end, place = _varint(payload, 0)
    kinds = []
    while place < end:
        kind, place = _varint(payload, place)
        kinds.append(kind)
    cells: list[Cell | None] = []
    place = end
    for kind in kinds:
        size = _size(kind)
        if place + size > len(payload):
            raise ValueError("the row ends too early")
        cells.append(_cell(kind, payload[place : place + size]))
        place += size
    return tuple(cells)


def _size(kind: int) -> int:
    if kind >= 12:
        return (kind - 12) // 2
    return 8 if kind == 7 else _INTEGERS.get(kind, 0)


def _cell(kind: int, content: bytes) -> Cell | None:
    if kind in _INTEGERS:
        return int.from_bytes(content, "big", signed=True)
    if kind == 7:
        return float(struct.unpack(">d", content)[0])
    if kind in {8, 9}:
        return kind - 8
    return content.decode("utf-8") if kind >= 13 and kind % 2 else None


def _varint(data: bytes, place: int) -> tuple[int, int]:
    value = 0
    for index in range(8):
        byte = data[place + index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, place + index + 1
    return value << 8 | data[place + 8], place + 9
