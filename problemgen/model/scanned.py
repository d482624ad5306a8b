"""A page that came back from a scanner or a camera: its picture, and what the code on it says."""

from __future__ import annotations

from dataclasses import dataclass

from problemgen.model.page_code import PageCode

__all__ = ["Picture", "ScannedPage"]


@dataclass(frozen=True)
class Picture:
    """A page as JPEG, in colours or in grey; `pixels` and `points` (1/72 inch) are its width and height."""

    jpeg: bytes
    pixels: tuple[int, int]
    points: tuple[float, float]
    in_colour: bool


@dataclass(frozen=True)
class ScannedPage:
    """One page. Where its code was read, the picture is upright.

    Without a code, `remark` says why. A page with neither a code nor anything else on it `is_blank`, and of that no
    picture is kept; nor is there one of a page that is damaged.
    """

    picture: Picture | None
    code: PageCode | None = None
    remark: str = ""
    is_blank: bool = False
