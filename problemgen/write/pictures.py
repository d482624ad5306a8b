"""Pictures of pages: kept aside while a run sorts them, and bound into PDF."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pikepdf

from problemgen.errors import OutputError
from problemgen.model.scanned import Picture
from problemgen.scratch import scratch

__all__ = ["Aside", "aside", "picture_book"]


class Aside:
    """A folder of the system's, in which a run keeps what would fill the memory."""

    def __init__(self, folder: Path) -> None:
        """Take an empty folder."""
        self._folder, self._count = folder, 0

    def keep(self, content: bytes) -> Path:
        """Keep some bytes; gives the file in which they are. Raises OutputError where there is no room."""
        self._count += 1
        path = self._folder / str(self._count)
        try:
            path.write_bytes(content)
        except OSError as error:
            raise OutputError(f"no room in {self._folder}: {error.strerror or error}") from error
        return path

    @staticmethod
    def content(path: Path) -> bytes:
        """What is in a file that was kept."""
        return path.read_bytes()


@contextmanager
def aside() -> Iterator[Aside]:
    """A place aside, which is gone when the context closes."""
    with scratch() as folder:
        yield Aside(folder)


def picture_book(pictures: Iterable[Picture], title: str) -> bytes:
    """A PDF with a picture a page, as large as it tells. Same input, same bytes."""
    with pikepdf.new() as book:
        for picture in pictures:
            _add(book, picture)
        book.docinfo["/Title"] = title
        target = io.BytesIO()
        book.save(target, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return target.getvalue()


def _add(book: pikepdf.Pdf, picture: Picture) -> None:
    width, height = (round(side, 2) for side in picture.points)
    page = book.add_blank_page(page_size=(width, height))
    image = pikepdf.Stream(
        book,
        picture.jpeg,
        Type=pikepdf.Name.XObject,
        Subtype=pikepdf.Name.Image,
        Width=picture.pixels[0],
        Height=picture.pixels[1],
        BitsPerComponent=8,
        ColorSpace=pikepdf.Name.DeviceRGB if picture.in_colour else pikepdf.Name.DeviceGray,
        Filter=pikepdf.Name.DCTDecode,
    )
    page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=image))
    page.Contents = pikepdf.Stream(book, f"{width} 0 0 {height} 0 0 cm /P Do".encode())
