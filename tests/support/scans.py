"""Printed sheets as a copier or a camera sends them back: turned, askew, noisy, blurred, between blank backs."""

from __future__ import annotations

import io
import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image, ImageFilter

from problemgen.model.scanned import Picture
from problemgen.write.pictures import picture_book

__all__ = ["Scanner", "blank", "file_of", "pages_of"]


_DOTS = 110
"""An inch: fewer than any copier makes, so that a scan takes less time; a module of a code has two."""


def pages_of(path: Path, dots: int = _DOTS) -> Iterator[Image.Image]:
    """The pages of a printed file as grey pictures, without those with nothing on them."""
    document = pypdfium2.PdfDocument(path)
    try:
        for page in document:
            picture = page.render(scale=dots / 72, grayscale=True).to_pil()
            if picture.getextrema()[0] < 128:
                yield picture
    finally:
        document.close()


def blank(like: Image.Image) -> Image.Image:
    """A back on which nothing is written."""
    return Image.new("L", like.size, 255)


@dataclass(frozen=True)
class Scanner:
    """What a scanner does to a page, each time otherwise: every figure is the most of it.

    `skew` in degrees; `noise` the deviation of a pixel, of 255; `blur` in pixels; `speckles` black and white pixels in
    a million; `paper` how much darker than white; `quality` of the JPEG.
    """

    turns: Sequence[int] = (0, 90, 180, 270)
    skew: float = 2.0
    noise: float = 12.0
    blur: float = 0.8
    speckles: int = 300
    paper: int = 20
    quality: int = 60

    def scanned(self, page: Image.Image, draw: random.Random) -> bytes:
        """A page as JPEG."""
        askew = page.rotate(draw.uniform(-self.skew, self.skew), Image.Resampling.BICUBIC, fillcolor=255)
        turned = askew.rotate(draw.choice(self.turns), expand=True)
        blurred = turned.filter(ImageFilter.GaussianBlur(draw.uniform(0, self.blur)))
        pixels = np.asarray(blurred, dtype=np.float32)
        pixels = 30 + pixels * (225 - draw.uniform(0, self.paper)) / 255
        noise = np.random.default_rng(draw.getrandbits(32))
        pixels += noise.normal(0, draw.uniform(0, self.noise), pixels.shape).astype(np.float32)
        speckled = noise.random(pixels.shape, dtype=np.float32)
        share = self.speckles / 2_000_000
        pixels[speckled < share] = 0
        pixels[speckled > 1 - share] = 255
        buffer = io.BytesIO()
        Image.fromarray(pixels.clip(0, 255).astype(np.uint8)).save(buffer, "JPEG", quality=self.quality)
        return buffer.getvalue()


def file_of(jpegs: Iterable[bytes], dots: int = _DOTS) -> bytes:
    """Pages as a copier sends them: one PDF."""
    pictures = []
    for jpeg in jpegs:
        with Image.open(io.BytesIO(jpeg)) as image:
            points = (image.width * 72 / dots, image.height * 72 / dots)
            pictures.append(Picture(jpeg, image.size, points, in_colour=False))
    return picture_book(pictures, "scan")
