"""Files that nobody can scan: damaged, too large, locked, of another kind, each with what is said of it."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Mapping

import pikepdf
from PIL import Image

__all__ = ["UNREADABLE", "huge_image_pdf", "jpeg", "png"]


def png(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "PNG")
    return buffer.getvalue()


def jpeg(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG")
    return buffer.getvalue()


def _png_of(width: int, height: int) -> bytes:
    """A PNG that says it is so large, and has a line of it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    data = zlib.compress(bytes(min(width, 1 << 16) + 1))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def _pdf(pages: int = 1, password: str = "") -> bytes:
    buffer = io.BytesIO()
    with pikepdf.new() as book:
        for _ in range(pages):
            book.add_blank_page()
        locked = pikepdf.Encryption(user=password, owner="owner") if password else False
        book.save(buffer, encryption=locked)
    return buffer.getvalue()


def huge_image_pdf(side: int = 60_000) -> bytes:
    """A page with a picture of that many pixels a side, which packs into a few hundred bytes a megapixel."""
    buffer = io.BytesIO()
    with pikepdf.new() as book:
        page = book.add_blank_page(page_size=(595, 842))
        image = pikepdf.Stream(book, zlib.compress(bytes(1 << 20)))
        for name, value in {
            "/Type": pikepdf.Name.XObject,
            "/Subtype": pikepdf.Name.Image,
            "/Width": side,
            "/Height": side,
            "/BitsPerComponent": 8,
            "/ColorSpace": pikepdf.Name.DeviceGray,
            "/Filter": pikepdf.Name.FlateDecode,
        }.items():
            image[name] = value
        page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=image))
        page.Contents = pikepdf.Stream(book, b"595 0 0 842 0 0 cm /P Do")
        book.save(buffer)
    return buffer.getvalue()


_PAGE = Image.new("RGB", (400, 600), "white")
_EXPECTED = "expected scanned pages as PDF, PNG or JPEG"
_AGAIN = "Scan or save the pages again."
_KIND = f"found a file that is damaged or no picture; {_EXPECTED}. {_AGAIN}"
_PIXELS = (
    "found a picture of more than 100,000,000 pixels; expected at most so many. Scan with 300 dots an inch or less."
)

UNREADABLE: Mapping[str, tuple[bytes, str]] = {
    "empty.pdf": (b"", _KIND),
    "notes.txt": (b"My answers are 3 and 4.\n", _KIND),
    "moving.gif": (b"GIF89a\x01\x00\x01\x00\x80\x00\x00", _KIND),
    "cut.png": (png(_PAGE)[:20], _KIND),
    "cut.jpg": (jpeg(_PAGE)[:40], _KIND),
    "cut.pdf": (
        _pdf()[:60],
        f"found a PDF that is damaged; {_EXPECTED}. {_AGAIN}",
    ),
    "locked.pdf": (
        _pdf(1, "open"),
        f"found a PDF with a password; {_EXPECTED}. Save it without one.",
    ),
    "huge.png": (_png_of(20_000, 20_000), _PIXELS),
    "wide.png": (_png_of(2_000_000_000, 1), _PIXELS),
    "bomb.png": (_png_of(100_000, 100_000), _PIXELS),
    "thick.pdf": (_pdf(2001), "found 2,001 pages; expected at most 2,000. Split the file."),
}
"""What is said of a file as a whole, by a name for it."""
