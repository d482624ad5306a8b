"""What a file is, by its first bytes: names are whatever a student, a phone or a platform made of them."""

from __future__ import annotations

import zipfile
from pathlib import Path

from problemgen.load.tables.workbook_sheet import is_workbook
from problemgen.model.returned import ReturnedKind

__all__ = ["DAMAGED_ARCHIVE", "is_archive", "kind_of"]

DAMAGED_ARCHIVE = (zipfile.BadZipFile, ValueError, NotImplementedError)
"""How Python's reader refuses an archive: damaged, with impossible numbers, packed in a way that it does not know."""

_HEAD = 1024
"""Bytes within which a PDF says that it is one (ISO 32000-1, appendix H, note 13)."""
_ZIP, _EMPTY_ZIP, _PDF = b"PK\x03\x04", b"PK\x05\x06", b"%PDF-"
_PICTURES = (b"\x89PNG\r\n", b"\xff\xd8\xff", b"GIF8", b"II*\0", b"MM\0*", b"BM")
_IN_BOXES = (b"heic", b"heix", b"mif1", b"avif")
"""Pictures whose format stands from the ninth byte on, as phones make them."""
_OFFICE = "[Content_Types].xml"
"""The part that workbooks and texts have, and archives of files have not."""
_SHEETS = "xl/"
"""Where workbooks have theirs."""


def kind_of(path: Path) -> ReturnedKind:
    """What a file is. Raises OSError for one that cannot be read."""
    head = _head(path)
    if _PDF in head:
        return "pdf"
    if head.startswith(_PICTURES) or head[8:12] in _IN_BOXES or (head[:4] == b"RIFF" and head[8:12] == b"WEBP"):
        return "picture"
    return "workbook" if is_workbook(path) and not _is_other_document(path) else "other"


def _is_other_document(path: Path) -> bool:
    """Whether a file is packed as workbooks are, and is a text or a presentation."""
    names = _names(path) or []
    return _OFFICE in names and not any(name.startswith(_SHEETS) for name in names)


def is_archive(path: Path) -> bool:
    """Whether a file is an archive of files, and no workbook or text. Raises OSError for one that cannot be read."""
    if not _head(path).startswith((_ZIP, _EMPTY_ZIP)):
        return False
    names = _names(path)
    return _OFFICE not in names if names is not None else path.suffix.lower() == ".zip"


def _names(path: Path) -> list[str] | None:
    """What is in an archive; None where that cannot be told."""
    try:
        with zipfile.ZipFile(path) as archive:
            return archive.namelist()
    except DAMAGED_ARCHIVE:
        return None


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(_HEAD)
