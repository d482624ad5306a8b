"""Scanned pages: a PDF, PNG or JPEG in; pictures and the codes on them out.

Every page is drawn anew as a picture: of a stranger's PDF nothing else goes on, no script, attachment or reference. The
libraries that read pictures are no match for every damaged file: whoever calls this does it in a process that may end
(`problemgen/write/apart.py`).
"""

from __future__ import annotations

import io
import re
import warnings
from bisect import bisect_left
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import accumulate, pairwise
from pathlib import Path

import pikepdf
import pypdfium2
import zxingcpp
from PIL import Image, ImageChops, ImageFilter, ImageOps
from pypdfium2.raw import FPDF_ERR_PASSWORD, FPDF_PAGEOBJ_IMAGE

from problemgen.model.page_code import PageCode, read_page_code
from problemgen.model.scanned import Picture, ScannedPage

__all__ = ["count_pages", "read_page"]

_MOST_PAGES = 2000
"""Pages of a file: a feeder takes some hundreds."""
_MOST_PIXELS = 100_000_000
"""Of a page: A3 at 600 dots an inch has 70 million."""
_DOTS, _LONGEST = 200, 2600
"""Dots an inch and pixels of the longer side of what is kept: a module of a code has four at the usual size."""
_QUALITY = 80
"""Of the JPEG: Pillow's usual 75 shows around pencil lines."""
_GREY = 24
"""How far apart the colours of a grey picture are at most: a camera's white is a little warm."""

_PDF = b"%PDF-"
_HEAD = 1024  # bytes among which a PDF may begin
_EXPECTED = "expected scanned pages as PDF, PNG or JPEG"
_SAVE_AGAIN, _SPLIT = "Scan or save the pages again.", "Split the file."
_QR = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
_A4 = 842
"""Points of the longer side."""


def count_pages(path: Path) -> tuple[int, str]:
    """How many pages a file has; and where there are none that can be read, why.

    That is so for a file that is no picture and no PDF, is damaged, has a password, or is beyond a limit.
    """
    try:
        pages = _pages_of(path)
    except _TooLargeError as error:
        return 0, f"found {error}; expected at most so many. Scan with 300 dots an inch or less."
    except pypdfium2.PdfiumError as error:
        if error.err_code == FPDF_ERR_PASSWORD:
            return 0, f"found a PDF with a password; {_EXPECTED}. Save it without one."
        return 0, f"found a PDF that is damaged; {_EXPECTED}. {_SAVE_AGAIN}"
    except Exception:  # noqa: BLE001 - a damaged file makes anything of the libraries that read it
        return 0, f"found a file that is damaged or no picture; {_EXPECTED}. {_SAVE_AGAIN}"
    if pages > _MOST_PAGES:
        return 0, f"found {pages:,} pages; expected at most {_MOST_PAGES:,}. {_SPLIT}"
    return pages, "" if pages else f"found a file without pages; {_EXPECTED}. {_SAVE_AGAIN}"


def _pages_of(path: Path) -> int:
    if not _is_pdf(path):
        with _picture_at(path):
            return 1
    with _opened(path) as document:
        return len(document)


def read_page(path: Path, place: int) -> ScannedPage:
    """One page of a file that `count_pages` has counted, from 0: its picture, upright, and its code."""
    try:
        image, points = _drawn(path, place) if _is_pdf(path) else _photographed(path)
        return _looked_at(image, points)
    except _TooLargeError as error:
        return ScannedPage(None, remark=str(error))
    except Exception:  # noqa: BLE001 - a damaged page makes anything of the libraries that read it
        return ScannedPage(None, remark="a page that is damaged")


def _looked_at(image: Image.Image, points: tuple[float, float]) -> ScannedPage:
    grey = image.convert("L")
    found = _codes_on(grey)
    if not found and _is_blank(grey):
        return ScannedPage(None, is_blank=True)
    if not found:
        found = next(filter(None, map(_codes_on, _tried(grey))), [])
    codes, remark = _read(found)
    if len(codes) != 1:
        return ScannedPage(_kept(image, points), remark=remark)
    ((code, turn),) = codes.items()
    turned = image if turn == 0 else image.transpose(_TURNS[turn])
    return ScannedPage(_kept(turned, points if turn % 180 == 0 else points[::-1]), code)


class _TooLargeError(Exception):
    """A picture beyond the limits."""


_TURNS = {90: Image.Transpose.ROTATE_90, 180: Image.Transpose.ROTATE_180, 270: Image.Transpose.ROTATE_270}
"""What turns a picture to the left by so many degrees."""

_Found = list[tuple[str, int]]
"""What codes on a picture say, and by how many degrees to the left the picture is to be turned."""


def _codes_on(grey: Image.Image) -> _Found:
    found = zxingcpp.read_barcodes(grey, formats=_QR, try_invert=False)
    return [(one.text, round(one.orientation / 90) * 90 % 360) for one in found]


def _tried(grey: Image.Image) -> Iterator[Image.Image]:
    """The picture with less noise, with sharper edges, larger: what brings out a code that was not found at once."""
    yield grey.filter(ImageFilter.MedianFilter(3))
    yield grey.filter(ImageFilter.UnsharpMask(3, 250, 0))
    width, height = grey.size
    strip = height // 4
    for top in (0, height - strip):  # where the codes of upright pages are, and of those upside down
        yield grey.crop((0, top, width, top + strip)).resize((2 * width, 2 * strip), Image.Resampling.BICUBIC)
    yield ImageOps.autocontrast(grey.reduce(2), cutoff=2)


def _read(found: _Found) -> tuple[dict[PageCode, int], str]:
    """The codes of pages among what was found, and why there is not just one."""
    codes: dict[PageCode, int] = {}
    reasons: list[str] = []
    for text, turn in found:
        try:
            codes[read_page_code(text)] = turn
        except ValueError as error:
            reasons.append(str(error))
    if len(codes) > 1:
        return codes, f"the codes of {len(codes)} pages on one"
    if reasons:
        return codes, f"a QR code that is {reasons[0]}"
    return codes, "no code found"


_MARGIN = 0.03  # of a page: shadows of the lid
_PAPER = 127  # of 255: what is darker is no paper
_DARKER, _GRAINS = 30, 3.5  # than the paper, and so many times its grain: as pencil is
_BLOCK, _SHARE = 12, 18  # pixels a side, three or four millimetres; and of 255, how much of them a stroke fills
"""Tried with one thin figure on a page: it fills 27 at least, at 75 dots an inch and more; grain and specks 11."""


def _is_blank(grey: Image.Image) -> bool:
    """Whether nothing is printed or written on a page: grain and specks, which lie scattered, are passed over."""
    small = grey.reduce(2).filter(ImageFilter.MedianFilter(3))
    across, down = (int(_MARGIN * side) for side in small.size)
    inner = small.crop((across, down, small.width - across, small.height - down))
    below = list(accumulate(inner.histogram()))
    paper, grain = (bisect_left(below, share * below[-1]) for share in (0.5, 0.16))  # as far apart as its deviation
    least = paper - max(_DARKER, _GRAINS * (paper - grain))
    strokes = inner.point([255 if value < least else 0 for value in range(256)]).reduce(_BLOCK)
    return paper > _PAPER and not any(strokes.histogram()[_SHARE:])


def _kept(image: Image.Image, points: tuple[float, float]) -> Picture:
    apart = (ImageChops.difference(one, other) for one, other in pairwise(image.reduce(8).split()))
    in_colour = any(sum(one.histogram()[_GREY:]) for one in apart)
    buffer = io.BytesIO()
    (image if in_colour else image.convert("L")).save(buffer, "JPEG", quality=_QUALITY)
    return Picture(buffer.getvalue(), image.size, points, in_colour)


def _is_pdf(path: Path) -> bool:
    with path.open("rb") as file:
        return _PDF in file.read(_HEAD)


@contextmanager
def _opened(path: Path) -> Iterator[pypdfium2.PdfDocument]:
    """A PDF without its forms, and so without scripts."""
    document = pypdfium2.PdfDocument(path)
    try:
        yield document
    finally:
        document.close()


def _drawn(path: Path, place: int) -> tuple[Image.Image, tuple[float, float]]:
    """A page of a PDF, and its size in points."""
    with _opened(path) as document:
        page: pypdfium2.PdfPage = document[place]
        for one in page.get_objects(filter=[FPDF_PAGEOBJ_IMAGE]):
            assert isinstance(one, pypdfium2.PdfImage)
            _check(one.get_px_size())
        points = page.get_size()
        bitmap = page.render(scale=min(_DOTS / 72, _LONGEST / max(points)), may_draw_forms=False)
        image: Image.Image = bitmap.to_pil().convert("RGB")
        if not any(image.convert("L").histogram()[:_SHOWN]):
            _check_empty(path, place, page)
        return image, points


_SHOWN = 250  # of 255: what is lighter shows nothing
_PAINTING = re.compile(rb"(?<![^\s\])>])(?:Do|TJ|Tj|BI|sh|[fFBbSs]\*?)(?!\S)")
"""Operators of a page's contents by which something shows. Source: ISO 32000-2:2020, table A.1."""


def _check_empty(path: Path, place: int, page: pypdfium2.PdfPage) -> None:
    """Raises an error for a page that shows nothing because it is damaged, and not because it is a blank back."""
    objects = list(page.get_objects())
    for one in objects:
        if isinstance(one, pypdfium2.PdfImage):
            one.get_bitmap()
    if not objects:
        with pikepdf.open(path) as file:
            bare = file.pages[place]
            bare.contents_coalesce()
            if "/Contents" in bare.obj and _PAINTING.search(bare.obj.Contents.read_bytes()):
                raise ValueError("contents of which nothing shows")


def _photographed(path: Path) -> tuple[Image.Image, tuple[float, float]]:
    """A picture, and the size in points that it has on A4."""
    with _picture_at(path) as picture:
        picture.draft("RGB", (_LONGEST, _LONGEST))
        image = ImageOps.exif_transpose(_eight_bits(picture))
    if image.has_transparency_data:
        coloured = image.convert("RGBA")
        image = Image.new("RGB", image.size, "white")
        image.paste(coloured, mask=coloured)
    image = image.convert("RGB")
    image.thumbnail((_LONGEST, _LONGEST))
    share = _A4 / max(image.size)
    return image, (image.width * share, image.height * share)


def _eight_bits(picture: Image.Image) -> Image.Image:
    """A grey picture of sixteen bits in eight; any other as it is."""
    if not picture.mode.startswith("I"):
        return picture
    return picture.convert("I").point(lambda value: value * (1 / 257)).convert("L")


@contextmanager
def _picture_at(path: Path) -> Iterator[Image.Image]:
    """A PNG or JPEG within the limits, of which the head is read."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # the limit here is another one
        try:
            picture = Image.open(path, formats=("PNG", "JPEG"))
        except Image.DecompressionBombError as error:
            raise _TooLargeError(f"a picture of more than {_MOST_PIXELS:,} pixels") from error
    with picture:
        _check(picture.size)
        yield picture


def _check(pixels: tuple[int, int]) -> None:
    """Raises _TooLargeError for a picture that is not read."""
    if pixels[0] * pixels[1] > _MOST_PIXELS:
        raise _TooLargeError(f"a picture of more than {_MOST_PIXELS:,} pixels")
