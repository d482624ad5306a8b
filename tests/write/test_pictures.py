"""Pictures of pages bound into PDF, and kept aside meanwhile."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from problemgen.errors import OutputError
from problemgen.model.scanned import Picture
from problemgen.write.pictures import aside, picture_book


def picture(width: int, height: int, mode: str = "L") -> Picture:
    buffer = io.BytesIO()
    Image.new(mode, (width, height), "red" if mode == "RGB" else 90).save(buffer, "JPEG")
    return Picture(buffer.getvalue(), (width, height), (width / 2, height / 2), mode == "RGB")


def test_each_picture_fills_a_page() -> None:
    mine = [picture(100, 140), picture(140, 100, "RGB")]
    with pikepdf.open(io.BytesIO(picture_book(mine, "s014"))) as book:
        assert str(book.docinfo["/Title"]) == "s014"
        for one, page in zip(mine, book.pages, strict=True):
            assert [float(edge) for edge in page.mediabox] == [0, 0, *one.points]
            image = page.obj.Resources.XObject.P
            assert image.read_raw_bytes() == one.jpeg
            shown = pikepdf.PdfImage(image).as_pil_image()
            assert (shown.size, shown.mode) == (one.pixels, "RGB" if one.in_colour else "L")


def test_the_same_pictures_make_the_same_bytes() -> None:
    first, second = (picture_book([picture(10, 10), picture(20, 10)], "x") for _ in range(2))
    assert first == second


def test_what_is_kept_aside_is_gone_at_the_end() -> None:
    with aside() as place:
        first, second = place.keep(b"one"), place.keep(b"two")
        assert (place.content(first), place.content(second)) == (b"one", b"two")
    assert not first.exists()
    assert not first.parent.exists()


def test_no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with aside() as place, pytest.raises(OutputError, match=r"^no room in .*: No space left on device$"):
        place.keep(b"one")
