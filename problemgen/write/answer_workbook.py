"""A workbook to be filled in: every cell is locked but those for the answers, and nothing in it calculates.

Cells for answers hold text, so that what is typed stays: 3.60 keeps its zero, 94:6 becomes no time of day.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from problemgen.late import late
from problemgen.model.handed_out import BookRow
from problemgen.write.workbook import storable, timeless

__all__ = ["answer_workbook", "number_format"]

openpyxl, styles, custom = late("openpyxl"), late("openpyxl.styles"), late("openpyxl.packaging.custom")
validation, properties = late("openpyxl.worksheet.datavalidation"), late("openpyxl.worksheet.properties")

_PROPERTY = "problemgen"
_WIDTHS = {"A": 9, "B": 62, "C": 18, "D": 12, "E": 44}  # letters; beside each other on a small screen
_WORDS, _ABOUT = 54, 38  # letters on a line of the second and the last column: not every program finds out by itself
_LINE_HEIGHT = 15  # points
_LINE, _PAPER = "808080", "FFF9DB"  # colours
_TEXT = "@"
_NUMBER = re.compile(r"-?[0-9]+(?:\.([0-9]+))?(e-?[0-9]+)?")


def number_format(number: str) -> str:
    """The format in which a cell shows a number as it is written; "" for what is no number.

    >>> number_format("2.50"), number_format("6.0e-4"), number_format("94:6")
    ('0.00', '0.0E+00', '')
    """
    found = _NUMBER.fullmatch(number)
    if found is None:
        return ""
    decimals = f".{'0' * len(found[1])}" if found[1] else ""
    return f"0{decimals}{'E+00' * bool(found[2])}"


def answer_workbook(title: str, sheet: str, rows: Sequence[BookRow], stamp: str, *, right_to_left: bool) -> bytes:
    """A workbook of one sheet, by its name; the same rows give the same bytes. `stamp` is what it says of itself."""
    book: Any = openpyxl.Workbook()  # the stubs leave its own properties out
    book.properties.title = storable(title)
    book.properties.keywords = stamp  # in two places: a program that saves it may keep one alone
    book.custom_doc_props.append(custom.StringProperty(name=_PROPERTY, value=stamp))
    page: Any = book.active
    page.title = sheet
    page.sheet_view.rightToLeft = right_to_left
    page.sheet_view.showGridLines = False
    page.sheet_properties.pageSetUpPr = properties.PageSetupProperties(fitToPage=True)
    page.page_setup.orientation, page.page_setup.fitToHeight = "landscape", 0  # as many pages as it needs, one wide
    for column, width in _WIDTHS.items():
        page.column_dimensions[column].width = width
    for number, row in enumerate(rows, start=1):
        _write(page, number, row)
    page.protection.sheet = True
    page.protection.formatColumns = page.protection.formatRows = False  # who needs wider cells may have them
    packed = io.BytesIO()
    book.save(packed)
    return timeless(packed.getvalue())


def _write(page: Any, number: int, row: BookRow) -> None:
    _put(page.cell(number, 2), row.words, bold=row.is_heading)
    if row.field is not None:
        _put(page.cell(number, 1), row.field.name)
        _open(page, page.cell(number, 3), row)
    elif row.number:
        _put_number(page.cell(number, 3), row.number)
    lines = max(math.ceil(len(text) / room) for text, room in ((row.words, _WORDS), (row.about, _ABOUT)))
    page.row_dimensions[number].height = _LINE_HEIGHT * max(lines, 1) + (_LINE_HEIGHT if row.is_heading else 0)
    _put(page.cell(number, 4), row.unit)
    _put(page.cell(number, 5), row.about)


def _put(cell: Any, text: str, *, bold: bool = False) -> None:
    """A cell of text, also where the text begins with "=": the quote prefix keeps it so."""
    if text:
        cell.value = storable(text)
        cell.data_type = "s"
        cell.quotePrefix = True
        cell.alignment = styles.Alignment(wrap_text=True, vertical="bottom" if bold else "top")
        cell.font = styles.Font(bold=bold)


def _put_number(cell: Any, number: str) -> None:
    shown = number_format(number)
    if shown:
        cell.value = Decimal(number)
        cell.number_format = shown
    else:
        _put(cell, number)
    cell.alignment = styles.Alignment(horizontal="right", vertical="top")


def _open(page: Any, cell: Any, row: BookRow) -> None:
    """A cell to write in; of a choice, with the letters to choose from."""
    cell.protection = styles.Protection(locked=False)
    line = styles.Side(style="thin", color=_LINE)
    cell.border, cell.fill = styles.Border(line, line, line, line), styles.PatternFill("solid", start_color=_PAPER)
    cell.number_format = _TEXT
    cell.alignment = styles.Alignment(horizontal="right", vertical="top")
    if row.field is not None and row.field.options:
        letters = ",".join(letter for letter, _ in row.field.options)
        choice = validation.DataValidation(
            type="list", formula1=f'"{letters}"', allow_blank=True, showErrorMessage=False
        )
        page.add_data_validation(choice)
        choice.add(cell)
