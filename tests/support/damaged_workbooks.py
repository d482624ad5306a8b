"""Workbooks damaged in every way that a disk, a mail program, a script or a prankster may damage one."""

from __future__ import annotations

import datetime
import io
import random
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping

from openpyxl import Workbook

__all__ = ["archived", "damaged", "parts_of", "sound_workbook"]

_ODD = (
    "", "-1", "0", "1e99999999", "9" * 400, "99999999999999999999", "NaN", "INF", "1048577", "2958466", "-2958466", "x",
    "\u0661", "1.5", " 3", "A0", "XFE1", "AAAA1", "$A$1", "rId99", "../../etc/passwd", "s", "d", "e", "b", "inlineStr",
    "dataTable", "true", "0." + "0" * 100_000, "[h]", "[", '"', "2026-13-45T99:99:99", "PT1e400H", "1E+400", "_x0000_",
)  # fmt: skip
_VALUE = re.compile(rb'="[^"]*"')
_TEXT = re.compile(rb">[^<>]+<")
_TAG = re.compile(rb"<[^<>]+>")


def sound_workbook() -> bytes:
    """A workbook with texts, numbers, formulas, dates, formats, and two sheets."""
    book = Workbook()
    sheet = book.worksheets[0]
    rows: tuple[list[object], ...] = (
        ["id", "name", "1a", "1b"], ["s1", "Ada", 39.5, "0,5 g"], ["s2", "Zoë", "=C2*2", datetime.date(2026, 4, 3)],
        ["s3", "Li", datetime.time(1, 6), True], ["s4", "Bo", 0.82, datetime.timedelta(hours=94)],
    )  # fmt: skip
    for row in rows:
        sheet.append(row)
    sheet["C2"].number_format, sheet["C5"].number_format = '0.00" g"', "0%"
    book.create_sheet("More").append(["other"])
    file = io.BytesIO()
    book.save(file)
    return archived(_with_shared_texts(parts_of(file.getvalue())))


def _with_shared_texts(parts: Mapping[str, bytes]) -> dict[str, bytes]:
    """As spreadsheets write texts, and the library does not: in a part of their own."""
    texts: list[bytes] = []

    def shared(found: re.Match[bytes]) -> bytes:
        texts.append(found[1])
        return b't="s"><v>%d</v>' % (len(texts) - 1)

    sheet, rels = "xl/worksheets/sheet1.xml", "xl/_rels/workbook.xml.rels"
    changed = re.sub(rb't="inlineStr"><is><t>([^<]*)</t></is>', shared, parts[sheet])
    table = b"".join(b"<si><t>%b</t></si>" % text for text in texts)
    kind = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
    relation = b'<Relationship Type="%b" Target="sharedStrings.xml" Id="rId77"/></Relationships>' % kind
    types, told = (
        "[Content_Types].xml",
        b"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml",
    )
    override = b'<Override PartName="/xl/sharedStrings.xml" ContentType="%b"/></Types>' % told
    space = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    return {
        **parts,
        types: parts[types].replace(b"</Types>", override),
        sheet: changed,
        rels: parts[rels].replace(b"</Relationships>", relation),
        "xl/sharedStrings.xml": b'<sst xmlns="%b">%b</sst>' % (space, table),
    }


def parts_of(content: bytes) -> dict[str, bytes]:
    """The parts of a workbook by name."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def archived(parts: Mapping[str, bytes]) -> bytes:
    """A workbook of parts."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return file.getvalue()


def damaged(count: int, seed: int, book: bytes | None = None) -> Iterator[bytes]:
    """So many damaged workbooks, each in one of the ways below; of a sound one of ours, or of another."""
    chance, sound = random.Random(seed), book or sound_workbook()  # noqa: S311 - no key is drawn
    parts = parts_of(sound)
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: _flipped(sound, chance),
        lambda: sound[: chance.randrange(4, len(sound))],
        lambda: sound[:4] + chance.randbytes(chance.randrange(2000)),
        lambda: archived({name: part for name, part in parts.items() if chance.random() > 0.2}),
        lambda: archived(dict(zip(parts, chance.sample([*parts.values()], len(parts)), strict=True))),
        *(lambda change=change: _changed(parts, chance, change) for change in _CHANGES),  # type: ignore[misc]
    )
    for number in range(count):
        yield ways[number % len(ways)]()


def _changed(
    parts: Mapping[str, bytes], chance: random.Random, change: Callable[[bytes, random.Random], bytes]
) -> bytes:
    """With one part changed, most often one that is read for its cells."""
    cells = [name for name in parts if name.endswith(("sheet1.xml", "sharedStrings.xml", "styles.xml"))]
    name = chance.choice(cells if chance.random() < 0.8 else [*parts])
    return archived({**parts, name: change(parts[name], chance)})


def _flipped(content: bytes, chance: random.Random) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.choice((1, 3, 20))):
        changed[chance.randrange(4, len(changed))] = chance.randrange(256)
    return bytes(changed)


def _odd(chance: random.Random) -> bytes:
    return chance.choice(_ODD).encode().replace(b"&", b"&amp;").replace(b"<", b"&lt;").replace(b'"', b"&quot;")


def _replaced(pattern: re.Pattern[bytes], form: bytes) -> Callable[[bytes, random.Random], bytes]:
    """Puts something odd in the place of one to three pieces that a pattern finds."""

    def change(part: bytes, chance: random.Random) -> bytes:
        for _ in range(chance.choice((1, 1, 3))):
            found = [*pattern.finditer(part)]
            if found:
                one = chance.choice(found)
                part = part[: one.start()] + form % _odd(chance) + part[one.end() :]
        return part

    return change


def _without_tag(part: bytes, chance: random.Random) -> bytes:
    tag = chance.choice([*_TAG.finditer(part)])
    return part[: tag.start()] + part[tag.end() :]


def _doubled(part: bytes, chance: random.Random) -> bytes:
    """A stretch from one tag to another twice."""
    first, last = sorted(chance.sample([one.start() for one in _TAG.finditer(part)], 2))
    return part[:last] + part[first:last] + part[last:]


_CHANGES: tuple[Callable[[bytes, random.Random], bytes], ...] = (
    _flipped,
    lambda part, chance: part[: chance.randrange(4, len(part))],
    _replaced(_VALUE, b'="%b"'),
    _replaced(_TEXT, b">%b<"),
    _without_tag,
    _doubled,
    lambda part, _: b'<!DOCTYPE x [<!ENTITY a "b">]>' + part.partition(b"?>")[2],
)
"""What may happen to the XML of a part."""
