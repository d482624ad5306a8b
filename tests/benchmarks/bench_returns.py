"""What sheets for the screen and workbooks cost a class of 120, beside its printed sheets; and reading them back."""

from __future__ import annotations

import tempfile
from pathlib import Path

from bench_table import best_of, note, print_table, times

from problemgen.pipeline.build import build
from problemgen.pipeline.collect import collect
from tests.support.filled_in import archive, filled_book, filled_sheet, typed_class

__all__ = ["returns"]

_SET, _ONE = "first-week", 1


def returns() -> None:
    """Build the example class with nothing more, with each outlet, and collect all that comes back."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        plain, _ = best_of(lambda: build(_SET, folder / "plain", replace=True), _ONE)
        screen, _ = best_of(lambda: build(_SET, folder / "screen", replace=True, fill_in=True), _ONE)
        book, _ = best_of(lambda: build(_SET, folder / "book", replace=True, workbook=True), _ONE)
        sheets, books = _filled(folder)
        of_sheets, _ = best_of(lambda: collect(folder / "screen", sheets, folder / "s.csv", replace=True), 3)
        of_books, _ = best_of(lambda: collect(folder / "book", books, folder / "b.csv", replace=True), 3)
        rows = (
            ("printed sheets alone", f"{plain:.1f} s", "1×", _size(folder / "plain" / "sheets")),
            ("with sheets to fill in", f"{screen:.1f} s", times(screen / plain), _size(folder / "screen" / "fill-in")),
            ("with workbooks", f"{book:.1f} s", times(book / plain), _size(folder / "book" / "workbooks")),
            ("sheets collected", f"{of_sheets:.1f} s", times(of_sheets / plain), _size(sheets)),
            ("workbooks collected", f"{of_books:.1f} s", times(of_books / plain), _size(books)),
        )
        print_table("A class of 120", ("", "time", "of a build", "size"), rows)
        note("The size of what comes back is that of the archive.")


def _filled(folder: Path) -> tuple[Path, Path]:
    rows = typed_class(folder / "screen", folder / "typed.csv")
    sheets, books = folder / "sheets.zip", folder / "books.zip"
    screen, book = folder / "screen" / "fill-in", folder / "book" / "workbooks"
    sheets.write_bytes(archive((f"{s}.pdf", filled_sheet((screen / f"{s}.pdf").read_bytes(), c)) for s, c in _of(rows)))
    books.write_bytes(archive((f"{s}.xlsx", filled_book((book / f"{s}.xlsx").read_bytes(), c)) for s, c in _of(rows)))
    return sheets, books


def _of(rows: dict[str, dict[str, str]]) -> list[tuple[str, dict[str, str]]]:
    return [(student, {name: cell for name, cell in row.items() if name != "id"}) for student, row in rows.items()]


def _size(place: Path) -> str:
    files = [place] if place.is_file() else list(place.iterdir())
    return f"{sum(one.stat().st_size for one in files) / 1e6:.1f} MB"
