"""A document as plain data for the sheet's layout: literal strings, numbers and lists, ready for JSON.

The layout prints every string with its own text function, so no string can become markup. Nothing of a
document is ever put into the layout's source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from functools import lru_cache
from typing import Any

from problemgen.language.languages import direction, known
from problemgen.language.messages import N_, _, speaking
from problemgen.model import blocks as b
from problemgen.render.printers.fractions import with_bars
from problemgen.render.printers.heads import head_data
from problemgen.render.printers.page_codes import page_code_data
from problemgen.render.printers.schemes import drawings_data, scheme_data
from problemgen.render.printers.sizes import COMPACT, PAPERS, ROOMY, Sizes
from problemgen.render.printers.widths import text_width
from problemgen.render.words.spoken import spoken_calculation
from problemgen.render.words.text import (
    Pieces,
    chemical_pieces,
    clean_text,
    number_pieces,
    unit_pieces,
)

__all__ = ["document_data", "sheet_data"]

LANGUAGE = re.compile(r"^([a-z]{2,3})(?:-[A-Za-z]{4})?(?:-([A-Za-z]{2}))?(?:-.*)?$")
NARROW = 36  # letters that go into a line whatever they are: each is at most an em wide, a line has 39 or more
_POINTS = 0.88  # the type of points, against that of the text
MOST_WORK_LINES = 20  # more would not stay on one page with the part's text and blank
WORDS = {
    "name": N_("Name"),
    "answer": N_("Answer"),
    "answers": N_("Answers"),
    "working": N_("Worked solution of"),
    "part": N_("Part"),
    "page": N_("Page"),
    "of": N_("of"),
    "sheet": N_("Sheet"),
    "confidential": N_("CONFIDENTIAL: answers"),
}

Data = dict[str, Any]


def sheet_data(document: b.Document, shaped: Data | None = None) -> Data:
    """The document as data for `sheet.typ`: what `document_data` tells, and how the heads of its pages are laid out.

    `shaped` is what that told, where it is at hand. Raises ValueError for a paper other than "a4" and "us-letter".
    """
    data, sizes = document_data(document) if shaped is None else shaped, _sizes(document)
    data = {**data, "blocks": [_on_paper(block) for block in data["blocks"]]}
    data |= {"sizes": asdict(sizes), "titles": _titles(data)}
    return {**data, "head": head_data(data, sizes)}


def _on_paper(block: Data) -> Data:
    """A block with what a layout needs that cannot measure, and without what paper has no place for.

    On a page, the working of what is right is folded away; bars of fractions are as wide as a browser makes them.
    """
    match block["kind"]:
        case "judged":
            return {**block, "working": () if block["brief"] else [_on_paper(inner) for inner in block["working"]]}
        case "flagged":
            return {**block, "blocks": [_on_paper(inner) for inner in block["blocks"]]}
        case "calculation":
            return with_bars(block)
        case _:
            return block


def document_data(document: b.Document) -> Data:
    """The document as plain data: strings cleaned, formulas in pieces, drawings by SMILES.

    Raises ValueError for a paper other than "a4" and "us-letter".
    """
    if document.paper not in PAPERS:
        raise ValueError(f"paper {document.paper!r} is not one of {', '.join(PAPERS)}")
    with speaking(known(document.language)):
        return _document_data(document)


def _sizes(document: b.Document) -> Sizes:
    return COMPACT if document.compact else ROOMY


def _document_data(document: b.Document) -> Data:
    language, region = _language(document.language)
    words = {name: _(word) for name, word in WORDS.items()}
    return {
        "title": clean_text(document.title) or words["sheet"],
        "course": clean_text(document.course),
        "student": clean_text(document.student).strip(),
        "code": clean_text(document.code),
        "paper": document.paper,
        "lang": language,
        "region": region,
        "dir": direction(document.language),
        "confidential": document.confidential,
        "about": clean_text(document.about),
        "name_line": document.name_line,
        "compact": document.compact,
        "leaves": document.leaves,
        "on_screen": document.on_screen,
        "words": words,
        "codes": page_code_data(document),
        "drawings": drawings_data(block for block in document.blocks if isinstance(block, b.Scheme)),
        "blocks": _blocks(document, _sizes(document)),
    }


def _titles(data: Data) -> list[str]:
    """What the pages of a document are headed by, in turn.

    One that opens with a sheet of its own has that sheet's heading for a title.
    """
    blocks: list[Data] = data["blocks"]
    sheets = [block["title"] for block in blocks if block["kind"] == "sheet"]
    return sheets if blocks and blocks[0]["kind"] == "sheet" else [data["title"], *sheets]


def _language(tag: str) -> tuple[str, str | None]:
    found = LANGUAGE.match(tag)
    return (found[1], found[2].upper() if found[2] else None) if found else ("en", None)


def _blocks(document: b.Document, sizes: Sizes) -> list[Data]:
    """The blocks in order; heading levels below the title's, none skipped."""
    shaped: list[Data] = []
    place = _Place(sizes, sizes.room(document.paper))
    level, sheets = 1, 0
    for block in document.blocks:
        if isinstance(block, b.NewSheet):
            level, sheets = 1, sheets + 1
            shaped.append({**_block(block, place), "number": sheets})
            continue
        if isinstance(block, b.Heading):
            level = min(max(block.level, 2), level + 1)
            shaped.append({"kind": "heading", "level": level, "text": clean_text(block.text)})
        else:
            shaped.append(_block(block, place))
    return shaped


@dataclass(frozen=True)
class _Place:
    """Where a block stands: the sizes of the layout, and the width of its line in points."""

    sizes: Sizes
    room: float

    def narrower(self, by: float) -> _Place:
        return _Place(self.sizes, self.room - by)


def _block(block: b.Block, place: _Place) -> Data:
    """Any block but a heading."""
    kind = type(block)
    shape = IN_PLACE[kind](block, place) if kind in IN_PLACE else SHAPES[kind](block)
    return {"kind": KINDS[kind], **shape}


def _paragraph(block: b.Paragraph | b.Note) -> Data:
    return {"line": _line(block.line)}


def _bullets(block: b.Bullets) -> Data:
    return {"items": [_line(line) for line in block.items]}


def _caution(block: b.Caution) -> Data:
    return {"title": clean_text(block.title), "lines": [_line(line) for line in block.lines]}


def _table(block: b.Table) -> Data:
    return {
        "caption": clean_text(block.caption),
        "header": [_line(cell) for cell in block.header],
        "rows": [[_line(cell) for cell in row] for row in block.rows],
        "numeric": list(block.numeric),
        "wide": block.wide,
        "compact": block.compact,
        "tall": block.tall,
        "breakable": not block.whole and _lines(block) > _LINES_IN_ONE_PIECE,
        "shares": list(block.shares),
    }


_LINES_IN_ONE_PIECE = 36
"""A table of more lines may go over to the next page: so many, with the space between rows, are half a page or more."""
_NARROW_COLUMN = 20
"""Letters in a line of a column that stands beside several others."""


def _lines(block: b.Table) -> int:
    """How many lines a table takes at most, the space between two rows counted as two of them."""
    cells = ([b.letters_of(cell) for cell in row] for row in block.rows)
    return sum(2 + max(letters // _NARROW_COLUMN for letters in row) for row in cells)


def _plot(block: b.Plot) -> Data:
    return {
        "across": clean_text(block.across),
        "up": clean_text(block.up),
        "across_ticks": [{"at": tick.at, "text": clean_text(tick.text)} for tick in block.across_ticks],
        "up_ticks": [{"at": tick.at, "text": clean_text(tick.text)} for tick in block.up_ticks],
        "points": [list(point) for point in block.points],
        "through": [list(end) for end in block.line],
        "alt": clean_text(block.alt),
    }


def _part(block: b.Part, place: _Place) -> Data:
    points = clean_text(block.points)
    return {
        "label": clean_text(block.label),
        "prompt": _line(block.prompt),
        "points": points,
        "points_width": place.sizes.base * _POINTS * text_width(points),
        "unit": unit_pieces(block.unit),
        "choices": [_line(choice) for choice in block.choices],
        "field": clean_text(block.column),
        "options": [letter for letter, _ in block.options],
        "work": max(0, min(block.work_lines, MOST_WORK_LINES)),
        "wide": block.wide,
        "blank": block.blank,
    }


def _answer_box(block: b.AnswerBox) -> Data:
    rows = [{"label": clean_text(row.label), "unit": unit_pieces(row.unit), "wide": row.wide} for row in block.rows]
    return {"rows": rows}


def _calculation(block: b.Calculation) -> Data:
    top, bottom = _over(block.relation)
    return {
        "symbol": _inline(block.symbol),
        "relation": {"top": _line(top), "bottom": _line(bottom)},
        "terms": [_ratio(ratio) for ratio in block.terms],
        "operators": [clean_text(operator).replace("-", "−") for operator in block.operators],
        "result": _amount(block.result),
        "alt": spoken_calculation(block),
        "wide": _widest(block) > NARROW,
    }


def _widest(block: b.Calculation) -> int:
    """The most letters that stand beside each other in one item of a line of working, or a few more."""
    lines = ((block.symbol,), *_over(block.relation))
    sides = (side for ratio in block.terms for side in (ratio.top, ratio.bottom))
    words = [b.letters_of(line) for line in lines]
    return max(*words, *(sum(map(_amount_letters, side)) for side in (*sides, (block.result,))))


def _amount_letters(amount: b.Amount) -> int:
    units = sum(len(piece.text) + 3 for piece in amount.unit)
    return len(amount.number) + units + len(amount.of) + 7


def _over(relation: b.Line) -> tuple[b.Line, b.Line]:
    """A relation with exactly one lone "/" is set as a fraction: what stands before it, and after."""
    slashes = [i for i, piece in enumerate(relation) if isinstance(piece, b.Prose) and piece.text.strip() == "/"]
    if len(slashes) != 1:
        return relation, ()
    return relation[: slashes[0]], relation[slashes[0] + 1 :]


def _ratio(ratio: b.Ratio) -> Data:
    return {"top": [_amount(a) for a in ratio.top], "bottom": [_amount(a) for a in ratio.bottom]}


def _amount(amount: b.Amount) -> Data:
    units = _units(amount.unit)
    all_gone = bool(units) and all(unit["cancelled"] for unit in units)
    of = chemical_pieces(amount.of) if amount.of else []
    return {"number": number_pieces(amount.number), "units": units, "of": of, "of_cancelled": all_gone}


@lru_cache(maxsize=4096)  # the units of some hundred plans
def _units(pieces: tuple[b.UnitPiece, ...]) -> tuple[Data, ...]:
    """Each factor with the sign that joins it to the one before: "g/mol", or "kPa L mol⁻¹ K⁻¹"."""
    below = [piece for piece in pieces if piece.exponent < 0]
    slash = len(below) == 1 and len(pieces) > 1 and pieces[-1].exponent < 0
    shaped = []
    for index, piece in enumerate(pieces):
        divided = slash and piece.exponent < 0
        name, power = piece.raised
        power = -power if divided else power
        sup = "" if power == 1 else str(power).replace("-", "−")
        join = "/" if divided else " " if index else ""
        shaped.append({"join": join, "text": clean_text(name), "sup": sup, "cancelled": piece.cancelled})
    return tuple(shaped)


def _scheme(block: b.Scheme, place: _Place) -> Data:
    return scheme_data(block, place.room, place.sizes)


def _judged(block: b.Judged, place: _Place) -> Data:
    beside = place.narrower(place.sizes.label)
    return {
        "label": clean_text(block.label),
        "prompt": _line(block.prompt),
        "points": clean_text(block.points),
        "sign": clean_text(block.sign),
        "verdict": clean_text(block.verdict),
        "wrote": _line(block.wrote),
        "sentences": [_line(line) for line in block.sentences],
        "working": [_block(inner, beside) for inner in block.working],
        "brief": block.brief,
    }


def _flagged(block: b.Flagged, place: _Place) -> Data:
    inside = place.narrower(sum(place.sizes.flag))
    blocks = [_block(inner, inside) for inner in block.blocks]
    return {"lines": [_line(line) for line in block.lines], "blocks": blocks}


def _new_sheet(block: b.NewSheet) -> Data:
    return {"title": clean_text(block.title) or WORDS["sheet"]}


def _line(line: b.Line) -> list[Data]:
    return [_inline(piece) for piece in line]


def _inline(piece: b.Inline) -> Data:
    match piece:
        case b.Prose(text):
            return {"kind": "prose", "text": clean_text(text)}
        case b.Blank(name, _, _, behind):
            return {
                "kind": "blank",
                "field": clean_text(name),
                "text": clean_text(piece.text),
                "behind": clean_text(behind),
            }
        case b.Strong(text):
            return {"kind": "strong", "text": clean_text(text)}
        case b.Chemical(formula):
            return {"kind": "chemical", "pieces": chemical_pieces(formula)}
        case b.Symbol(letter, of, chemical, sub):
            owner: Pieces = chemical_pieces(of) if chemical and of else [["text", clean_text(of)]]
            return {
                "kind": "symbol",
                "letter": clean_text(letter),
                "of": owner if of else [],
                "sub": clean_text(sub),
            }


SHAPES: Mapping[type, Callable[[Any], Data]] = {
    b.Paragraph: _paragraph,
    b.Note: _paragraph,
    b.Bullets: _bullets,
    b.Caution: _caution,
    b.Table: _table,
    b.Plot: _plot,
    b.AnswerBox: _answer_box,
    b.Calculation: _calculation,
    b.NewSheet: _new_sheet,
}
IN_PLACE: Mapping[type, Callable[[Any, _Place], Data]] = {
    b.Scheme: _scheme,
    b.Part: _part,
    b.Judged: _judged,
    b.Flagged: _flagged,
}
"""Those that the width of the line matters to, or that hold such."""

KINDS: Mapping[type, str] = {
    b.Paragraph: "paragraph",
    b.Note: "note",
    b.Bullets: "bullets",
    b.Caution: "caution",
    b.Scheme: "scheme",
    b.Table: "table",
    b.Plot: "plot",
    b.Part: "part",
    b.AnswerBox: "answers",
    b.Calculation: "calculation",
    b.Judged: "judged",
    b.Flagged: "flagged",
    b.NewSheet: "sheet",
}
