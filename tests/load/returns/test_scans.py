"""Scanned pages read: codes in whatever direction, blank backs, and what is said of what cannot be read."""

from __future__ import annotations

import io
import random
from pathlib import Path

import pikepdf
import pytest
import segno
from PIL import Image, ImageDraw

from problemgen.load.returns.scans import count_pages, read_page
from problemgen.model.page_code import PageCode
from problemgen.model.scanned import Picture, ScannedPage
from problemgen.write.pictures import picture_book
from tests.support.hostile_scans import UNREADABLE, huge_image_pdf, jpeg, png
from tests.support.scans import Scanner, file_of

CODE = PageCode("K7QX", "4BRM-TW9H", 1, 2, 3)
OTHER = PageCode("K7QX", "4BRM-TW9H", 1, 3, 3)
A4 = (1240, 1754)  # 150 dots an inch


def page(*texts: str) -> Image.Image:
    """A page with some lines, and QR codes in a row across its foot."""
    image = Image.new("RGB", A4, "white")
    draw = ImageDraw.Draw(image)
    for line in range(20):
        draw.text((100, 100 + 60 * line), "The amount of salt that is needed", fill="black", font_size=28)
    for place, text in enumerate(texts):
        code = segno.make_qr(text, error="Q", boost_error=False)
        buffer = io.BytesIO()
        code.save(buffer, kind="png", scale=3, border=4)
        image.paste(Image.open(buffer), (580 + 200 * place, 1600))
    return image


def read(folder: Path, content: bytes, place: int = 0) -> ScannedPage:
    path = folder / "file"
    path.write_bytes(content)
    assert count_pages(path)[0] > place
    return read_page(path, place)


def shown(found: ScannedPage) -> Image.Image:
    assert found.picture is not None
    image = Image.open(io.BytesIO(found.picture.jpeg))
    assert image.size == found.picture.pixels
    return image


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("kind", ["png", "jpg", "pdf"])
def test_a_page_is_turned_upright_by_its_code(tmp_path: Path, turn: int, kind: str) -> None:
    turned = page(CODE.text).rotate(turn, expand=True)
    content = {"png": png, "jpg": jpeg, "pdf": lambda image: file_of([jpeg(image.convert("L"))], 150)}[kind](turned)
    found = read(tmp_path, content)
    assert (found.code, found.remark, found.is_blank) == (CODE, "", False)
    image = shown(found).convert("L")
    assert image.height > image.width
    assert image.crop((0, 0, image.width, image.height // 2)).getextrema()[0] < 100  # the lines are above
    assert found.picture is not None
    assert found.picture.points[0] == pytest.approx(595, abs=1)
    assert found.picture.points[1] == pytest.approx(842, abs=1)


@pytest.mark.parametrize("seed", range(6))
def test_a_poor_scan_is_read(tmp_path: Path, seed: int) -> None:
    poor = Scanner(skew=4, noise=25, blur=1.2, speckles=2000, paper=60, quality=35)
    content = poor.scanned(page(CODE.text).convert("L"), random.Random(seed))  # noqa: S311 - keeps no secret
    assert read(tmp_path, file_of([content])).code == CODE


def test_a_picture_taken_with_a_camera_held_sideways(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned by 90 degrees to the right
    page(CODE.text).rotate(90, expand=True).save(buffer, "JPEG", exif=exif)
    found = read(tmp_path, buffer.getvalue())
    assert found.code == CODE
    assert shown(found).height > shown(found).width


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGBA", "LA", "I;16", "CMYK"])
def test_pictures_of_all_kinds(tmp_path: Path, mode: str) -> None:
    grey = page(CODE.text).convert("L")
    image = grey.convert("I").point(lambda value: value * 257).convert("I;16") if mode == "I;16" else grey.convert(mode)
    content = jpeg(image) if mode == "CMYK" else png(image)
    assert read(tmp_path, content).code == CODE


def test_ink_of_colour_stays_coloured(tmp_path: Path) -> None:
    inked = page(CODE.text)
    ImageDraw.Draw(inked).line((200, 900, 500, 950), fill=(20, 40, 200), width=5)
    found = [read(tmp_path, png(one)).picture for one in (inked, page(CODE.text))]
    assert [one.in_colour for one in found if one is not None] == [True, False]


def test_a_large_picture_is_kept_smaller(tmp_path: Path) -> None:
    found = read(tmp_path, png(page(CODE.text).resize((4960, 7016))))
    assert found.code == CODE
    assert found.picture is not None
    assert max(found.picture.pixels) == 2600


def back(*, noise: float = 0, words: int = 0, through: int = 255) -> Image.Image:
    """A back, of grey paper, with words on it and what shines through."""
    image = Image.new("L", A4, 235)
    draw = ImageDraw.Draw(image)
    for line in range(20):
        draw.text((100, 100 + 60 * line), "fo tnuoma ehT", fill=min(through, 235), font_size=28)
    for line in range(words):
        draw.text((300, 300 + 60 * line), "12.4 g", fill=140, font_size=30)
    scanned = Scanner(turns=(0,), noise=noise, blur=0, speckles=100 if noise else 0, paper=0)
    return Image.open(io.BytesIO(scanned.scanned(image, random.Random(1))))  # noqa: S311 - keeps no secret


@pytest.mark.parametrize(
    ("content", "is_blank"),
    [
        (back(), True),
        (back(noise=20), True),
        (back(noise=10, through=215), True),
        (back(words=1), False),
        (back(words=1, through=215), False),
        (back(noise=20, words=1), False),
    ],
)
def test_blank_backs(tmp_path: Path, content: Image.Image, *, is_blank: bool) -> None:
    found = read(tmp_path, png(content))
    assert found.is_blank is is_blank
    assert found.code is None
    assert found.remark == ("" if is_blank else "no code found")


@pytest.mark.parametrize(
    ("texts", "remark"),
    [
        ((), "no code found"),
        (("https://example.org/answers",), "a QR code that is no code of a page"),
        ((CODE.text[:-1] + "Z",), "a QR code that is a code with a character that was misread"),
        ((CODE.text[1] + CODE.text[0] + CODE.text[2:],), "a QR code that is a code with a character that was misread"),
        ((CODE.text, OTHER.text), "the codes of 2 pages on one"),
    ],
)
def test_why_a_page_has_no_code(tmp_path: Path, texts: tuple[str, ...], remark: str) -> None:
    found = read(tmp_path, png(page(*texts)))
    assert (found.code, found.remark, found.is_blank) == (None, remark, False)
    assert shown(found).size == A4


def test_a_foreign_code_beside_its_own_does_not_matter(tmp_path: Path) -> None:
    assert read(tmp_path, png(page("https://example.org/", CODE.text))).code == CODE


@pytest.mark.parametrize("name", UNREADABLE)
def test_what_is_said_of_a_file_that_cannot_be_read(tmp_path: Path, name: str) -> None:
    content, message = UNREADABLE[name]
    path = tmp_path / "kept"
    path.write_bytes(content)
    assert count_pages(path) == (0, message)


def test_pages_that_are_damaged_are_told_one_by_one(tmp_path: Path) -> None:
    whole = png(page(CODE.text))
    assert read(tmp_path, whole[: len(whole) // 2]) == ScannedPage(None, remark="a page that is damaged")
    told = "a picture of more than 100,000,000 pixels"
    assert read(tmp_path, huge_image_pdf()) == ScannedPage(None, remark=told)


@pytest.mark.parametrize(
    ("contents", "is_blank"),
    [
        (b"", True),
        (b"/Artifact BMC EMC q Q", True),
        (b"595 0 0 842 0 0 cm /P Do", False),  # of a picture that is not there
        (b"BT /F 12 Tf (3.45 g) Tj ET", True),  # white, or of a typeface that is not there
    ],
)
def test_a_page_that_shows_nothing_is_blank_or_damaged(tmp_path: Path, contents: bytes, *, is_blank: bool) -> None:
    buffer = io.BytesIO()
    with pikepdf.new() as book:
        book.add_blank_page(page_size=(595, 842)).Contents = pikepdf.Stream(book, contents)
        book.save(buffer)
    assert read(tmp_path, buffer.getvalue()).is_blank is is_blank


def test_a_picture_in_a_pdf_that_cannot_be_read_is_no_blank_page(tmp_path: Path) -> None:
    cut = Picture(jpeg(page(CODE.text).convert("L"))[:300], A4, (595, 842), in_colour=False)
    assert read(tmp_path, picture_book([cut], "scan")) == ScannedPage(None, remark="a page that is damaged")


def test_scripts_and_attachments_stay_behind(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    with pikepdf.open(io.BytesIO(file_of([jpeg(page(CODE.text).convert("L"))]))) as book:
        action = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)"))
        book.Root.OpenAction = action
        book.pages[0].obj.AA = pikepdf.Dictionary(O=action)
        book.attachments["x.txt"] = b"attached"
        book.save(buffer)
    found = read(tmp_path, buffer.getvalue())
    assert found.code == CODE
    assert found.picture is not None
    assert found.picture.jpeg[:3] == b"\xff\xd8\xff"
    assert b"app.alert" not in found.picture.jpeg
