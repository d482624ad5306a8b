"""A file is what its first bytes are, whatever its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.load.returns.kinds import is_archive, kind_of
from tests.support.damaged_workbooks import archived, sound_workbook


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.jpg", b"%PDF-1.4", "pdf"),
        ("a.pdf", b"junk of a mail program\n%PDF-1.4", "pdf"),
        ("a.pdf", b"\xff\xd8\xff\xe0", "picture"),
        ("a.pdf", b"\0\0\0\x18ftypheic", "picture"),
        ("a.pdf", b"RIFF\0\0\0\0WEBPVP8", "picture"),
        ("a", sound_workbook(), "workbook"),
        ("a.xls", bytes.fromhex("d0cf11e0a1b11ae1"), "workbook"),
        ("a.docx", archived({"[Content_Types].xml": b"", "word/document.xml": b""}), "other"),
        ("a.txt", b"1a: 2.5 mmol", "other"),
        ("a.pdf", b"", "other"),
    ],
)
def test_kinds(name: str, content: bytes, kind: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    assert kind_of(path) == kind
    assert not is_archive(path)


def test_an_archive_of_files_is_told_from_a_workbook(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(archived({"x/a.pdf": b""}))
    assert is_archive(tmp_path / "a")
