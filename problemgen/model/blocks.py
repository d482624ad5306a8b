"""A neutral document: what a sheet, a key or a feedback page says, before any printer shapes it.

Inline pieces stand in lines of text; blocks stand one below the other. Every string is literal text:
printers escape it, and nothing in it is markup.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from problemgen.model.lettering import lettered

__all__ = [
    "Amount",
    "AnswerBox",
    "Blank",
    "Block",
    "BoxRow",
    "Bullets",
    "Calculation",
    "Caution",
    "Chemical",
    "Document",
    "Flagged",
    "Heading",
    "Inline",
    "Judged",
    "Line",
    "NewSheet",
    "Note",
    "Paragraph",
    "Part",
    "Plot",
    "Prose",
    "Ratio",
    "Scheme",
    "SchemeItem",
    "Strong",
    "Symbol",
    "Table",
    "Tick",
    "UnitPiece",
    "letters_of",
]


@dataclass(frozen=True)
class Prose:
    """Plain words."""

    text: str


@dataclass(frozen=True)
class Strong:
    """Words that stand out."""

    text: str


@dataclass(frozen=True)
class Chemical:
    """A formula in the canonical ASCII spelling, set with subscripts and charges."""

    formula: str


@dataclass(frozen=True)
class Symbol:
    """A quantity's symbol, set in italics, with what it belongs to: m(NaCl), n(H2O), V(solution)."""

    letter: str
    of: str = ""  # a formula where `chemical`, else words
    chemical: bool = True
    sub: str = ""  # an upright index in words: "theoretical"


@dataclass(frozen=True)
class Blank:
    """A place to write in within a line: printed as `marks`, with what stands `behind`; on the screen a field."""

    id: str  # its column in the responses
    said: str  # what is read aloud of it
    marks: str
    behind: str = ""

    @property
    def text(self) -> str:
        """The place as it is printed."""
        return f"{self.marks}{self.behind}"


Inline: TypeAlias = Prose | Strong | Chemical | Symbol | Blank
Line: TypeAlias = tuple[Inline, ...]


def letters_of(line: Line) -> int:
    """About how many letters a line takes in print."""
    return sum(map(_letters, line))


def _letters(piece: Inline) -> int:
    if isinstance(piece, Symbol):
        return len(piece.letter) + len(piece.of) + len(piece.sub) + 2
    return len(piece.formula if isinstance(piece, Chemical) else piece.text)


@dataclass(frozen=True)
class Heading:
    """A heading; level 1 is the sheet's title, the printer gives it once."""

    level: int
    text: str


@dataclass(frozen=True)
class Paragraph:
    """A paragraph."""

    line: Line


@dataclass(frozen=True)
class Bullets:
    """A list without order."""

    items: tuple[Line, ...]


@dataclass(frozen=True)
class Caution:
    """A boxed caution: a title, paragraphs, and hazard lines a reagent each."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Note:
    """A quiet remark in smaller type."""

    line: Line


@dataclass(frozen=True)
class SchemeItem:
    """One species of a scheme: coefficient (1 prints nothing), formula, name, drawing if there is one."""

    coefficient: int
    formula: str
    name: str
    smiles: str | None = None


@dataclass(frozen=True)
class Scheme:
    """A reaction: reagents, arrow with conditions above and below, products; `alt` is read aloud."""

    left: tuple[SchemeItem, ...]
    right: tuple[SchemeItem, ...]
    above: str
    below: str
    alt: str
    drawn: bool = True  # False: formulas only


@dataclass(frozen=True)
class Table:
    """A table with a header row; `caption` is printed above it. Column `wide` takes the room that is left."""

    caption: str
    header: tuple[Line, ...]
    rows: tuple[tuple[Line, ...], ...]
    numeric: tuple[bool, ...]  # a column each: aligned right
    wide: int = 0
    compact: bool = False  # smaller type, for many rows
    shares: tuple[int, ...] = ()  # of the width, a column each; long cells wrap
    tall: bool = False  # rows with room to write by hand
    whole: bool = False  # on one page, however many rows it has


@dataclass(frozen=True)
class Tick:
    """A mark on an axis: where, as a share of the axis, and the number beside it."""

    at: float
    text: str


@dataclass(frozen=True)
class Plot:
    """Points over two axes, and perhaps a line through them; all places are shares of the axes, from 0 to 1.

    `across` and `up` say what the axes are; `line` holds the two ends of a line, () for none; `alt` is read aloud.
    """

    across: str
    up: str
    across_ticks: tuple[Tick, ...]
    up_ticks: tuple[Tick, ...]
    points: tuple[tuple[float, float], ...]
    line: tuple[tuple[float, float], ...]
    alt: str


@dataclass(frozen=True)
class Part:
    """One asked part with its blank; never split over pages."""

    id: str
    label: str  # "a", "b", …
    prompt: Line
    points: str  # "2 points", "1 point"
    unit: str  # the unit printed behind the blank; "" for a choice
    choices: tuple[Line, ...] = ()  # boxes to tick
    work_lines: int = 3  # room to write the working, in lines
    wide: bool = False  # a blank as long as the line, for an equation
    blank: bool = True  # whether the answer is written here; else in the sheet's box

    @property
    def column(self) -> str:
        """Its column in the responses: "1a"."""
        return f"{self.id.partition('-')[0].removeprefix('p')}{self.label}"

    @property
    def options(self) -> tuple[tuple[str, Line], ...]:
        """The letter by which each choice is answered, and the choice."""
        return lettered(self.choices)


@dataclass(frozen=True)
class BoxRow:
    """The place of one answer in a box: the part's label ("1a"), and the unit behind the blank."""

    label: str
    unit: str
    wide: bool = False  # a row of its own, for an equation


@dataclass(frozen=True)
class AnswerBox:
    """One box for all answers of a sheet."""

    rows: tuple[BoxRow, ...]


@dataclass(frozen=True)
class UnitPiece:
    """One factor of a unit in a chain: text, exponent, and whether it cancels."""

    text: str
    exponent: int = 1
    cancelled: bool = False

    @property
    def raised(self) -> tuple[str, int]:
        """The letters and their power: "m3" to the −1 is m to the −3."""
        letters = self.text.rstrip("23")
        return letters, int(self.text[len(letters) :] or "1") * self.exponent


@dataclass(frozen=True)
class Amount:
    """A number with its units: "2.50" (mL), struck through where they cancel."""

    number: str
    unit: tuple[UnitPiece, ...] = ()
    of: str = ""  # formula or words behind the unit: "mol Na2CO3"


@dataclass(frozen=True)
class Ratio:
    """One factor or term of a calculation: a number with units, or a fraction of two."""

    top: tuple[Amount, ...]
    bottom: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Calculation:
    """One line of a worked solution: symbol = relation = chain = result.

    `relation` is the law in symbols (numerator and denominator symbols as lines);
    `operators` stand between the terms: "×", "+", "−". `result` is rounded for print.
    """

    symbol: Symbol
    relation: Line
    terms: tuple[Ratio, ...]
    operators: tuple[str, ...]
    result: Amount
    alt: str  # the line read aloud


@dataclass(frozen=True)
class Judged:
    """One part as it was marked: what was asked and written, the verdict with its sign, and what is said about it.

    `sign` is one character that tells the verdict at a glance; the words tell it too. Below it stands the `working`.
    What is `brief` has nothing to look at again: a page folds it away, and paper has it on a line, without the working.
    """

    label: str  # "1a"
    prompt: Line
    points: str  # "1 of 2 points"
    sign: str
    verdict: str  # "Right"
    wrote: Line  # "You wrote 2,500, read as 2.500 mmol."
    sentences: tuple[Line, ...] = ()
    working: tuple[Block, ...] = ()
    brief: bool = False


@dataclass(frozen=True)
class Flagged:
    """Blocks that are pointed at, and the lines that say why: the step of a worked solution that went wrong."""

    lines: tuple[Line, ...]
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class NewSheet:
    """The start of another sheet of the same student: a new page with its own heading."""

    title: str
    session: int = 0  # which session's, for the codes on its pages


Block: TypeAlias = (
    Heading
    | Paragraph
    | Bullets
    | Caution
    | Note
    | Scheme
    | Table
    | Plot
    | Part
    | AnswerBox
    | Calculation
    | Judged
    | Flagged
    | NewSheet
)


@dataclass(frozen=True)
class Document:
    """A whole document. `student`, `about` and `code` are printed in the head and foot of each page.

    `leaves`: each sheet starts on a right-hand page, with pages counted from 1. `build` is the mark of the build
    (`page_code.build_mark`), where each page is to carry a code that tells which it is.
    """

    title: str
    course: str
    student: str  # the name as it is to be printed; "" on a key
    code: str  # the sheet code
    paper: str  # "a4" or "us-letter"
    language: str  # BCP 47: "en"
    blocks: tuple[Block, ...]
    confidential: bool = False  # a key: said on every page
    about: str = ""  # below the name: "s014, section B"
    name_line: bool = False  # a line to write the name on, where there is none
    compact: bool = False  # two columns of small type
    leaves: bool = False
    on_screen: bool = False  # to be filled in there: every blank becomes a field
    build: str = ""
