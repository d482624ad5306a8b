"""The geometry of reaction schemes: no row is wider than its line, and nothing is wider than its place."""

from __future__ import annotations

import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from problemgen.load.resources import layouts
from problemgen.model.blocks import Document, Scheme, SchemeItem
from problemgen.render.printers.schemes import drawings_data, scheme_data
from problemgen.render.printers.sizes import COMPACT, ROOMY, Sizes
from problemgen.render.printers.typst import sheet_data
from problemgen.render.printers.widths import longest_word, pieces_width, text_width
from problemgen.render.sheet.structures import draw
from problemgen.write.pdf import Job, compile_all

ALCOHOL = SchemeItem(1, "C5H12O", "3-methylbutan-1-ol", "CC(C)CCO")
ACID = SchemeItem(2, "C2H4O2", "acetic acid", "CC(=O)O")
WATER = SchemeItem(1, "H2O", "water", "O")
SALT = SchemeItem(3, "K2Cr2O7", "")
SIZES = st.sampled_from((ROOMY, COMPACT))
ITEMS = st.builds(
    SchemeItem,
    st.integers(1, 12),
    st.sampled_from(("C5H12O", "(NH4)2Fe(SO4)2·6H2O", "H2O", "SO4^2-", "no formula")),
    st.text(st.sampled_from("abcdeXYZ-12 "), max_size=40),
    st.sampled_from((None, "CCO", "CC(C)CCO", "c1ccccc1C(c1ccccc1)(c1ccccc1)O", "[Na+].[Cl-]")),
)
CONDITIONS = st.text(st.sampled_from("abcH2SO4, "), max_size=60)
SIDES = st.lists(ITEMS, max_size=5).map(tuple)
SCHEMES = st.builds(Scheme, SIDES, SIDES, CONDITIONS, CONDITIONS, st.just("told"), st.booleans())
GUTTERS = {"drawn": 7, "written": 8, "wrapped": 8}


def laid_out(scheme: Scheme, sizes: Sizes = ROOMY, paper: str = "a4") -> dict[str, Any]:
    return scheme_data(scheme, sizes.room(paper), sizes)


def kinds(data: dict[str, Any]) -> list[list[str]]:
    return [[cell["kind"] for cell in row["cells"]] for row in data["rows"]]


def test_lines_are_as_long_as_the_pages_measure() -> None:
    assert ROOMY.room("a4") == pytest.approx((210 - 44) * 72 / 25.4)
    assert COMPACT.room("a4") == pytest.approx((210 - 24 - 6) / 2 * 72 / 25.4)
    assert ROOMY.room("us-letter") == pytest.approx(8.5 * 72 - 44 * 72 / 25.4)


def test_one_row_then_one_a_side_then_as_many_as_it_takes() -> None:
    short = laid_out(Scheme((ALCOHOL, ACID), (WATER,), "", "", ""))
    assert kinds(short) == [["species", "plus", "species", "arrow", "species"]]
    two, three = ["species", "plus", "species"], ["species", "plus", "species", "plus", "species"]
    sides = laid_out(Scheme((ALCOHOL,) * 3, (ALCOHOL,) * 2, "under reflux for an hour", "", ""))
    assert kinds(sides) == [three, ["arrow", *two]]
    assert len(laid_out(Scheme((ALCOHOL,) * 9, (ALCOHOL,) * 9, "", "", ""))["rows"]) > 2


def test_what_a_column_has_no_room_for_is_said_in_formulas_and_words() -> None:
    scheme = Scheme((ALCOHOL, ACID), (ALCOHOL, ACID), "reflux", "", "")
    data = laid_out(scheme, COMPACT)
    assert (data["drawn"], data["form"]) == (True, "written")
    assert laid_out(scheme)["form"] == "drawn"


def test_formulas_without_conditions_go_on_as_text_does() -> None:
    assert laid_out(Scheme((SALT,), (SALT,), "", "", ""))["form"] == "written"
    assert laid_out(Scheme((SALT,) * 6, (SALT,) * 6, "", "", ""))["form"] == "wrapped"
    stacked = Scheme((SALT,) * 8, (SALT,), "heat", "", "", drawn=False)
    assert kinds(laid_out(stacked)) == [["side"], ["arrow", "side"]]
    long = Scheme((SALT,) * 6, (SALT,) * 9, "heat", "", "", drawn=False)
    assert kinds(laid_out(long)) == [["side"], ["arrow"], ["side"]]


def test_an_arrow_is_as_long_as_its_conditions() -> None:
    def arrow(above: str, below: str) -> dict[str, Any]:
        rows = laid_out(Scheme((SALT,), (SALT,), above, below, "", drawn=False))["rows"]
        found: dict[str, Any] = next(cell for row in rows for cell in row["cells"] if "arrow" in cell["kind"])
        return found

    size = 0.82 * 1.1 * 11
    assert arrow("", "")["kind"] == "bare arrow"
    assert arrow("a", "")["length"] == 44
    assert arrow("a", "boiled for long")["length"] == pytest.approx(14.2 + size * text_width("boiled for long"))
    assert arrow("", "a " * 60)["length"] == 126
    assert arrow("a", "")["height"] == pytest.approx(0.658 * size)
    assert arrow("a", "a " * 60)["height"] > 2 * 0.658 * size


@given(SCHEMES, SIZES, st.sampled_from(("a4", "us-letter")))
def test_no_row_is_wider_than_its_line(scheme: Scheme, sizes: Sizes, paper: str) -> None:
    data = laid_out(scheme, sizes, paper)
    for row in data["rows"]:
        between = GUTTERS[data["form"]] * (len(row["columns"]) - 1)
        assert row["width"] == pytest.approx(sum(row["columns"]) + between)
        assert row["factor"] * row["width"] <= sizes.room(paper) + 1e-6
        assert row["factor"] == 1 or row["factor"] * row["width"] == pytest.approx(sizes.room(paper))


@given(SCHEMES, SIZES)
def test_every_species_stands_once_and_in_order(scheme: Scheme, sizes: Sizes) -> None:
    data = laid_out(scheme, sizes)
    cells = [cell for row in data["rows"] for cell in row["cells"]]
    assert sum("arrow" in cell["kind"] for cell in cells) == 1
    told = [(cell["side"], cell["index"]) for cell in cells if cell["kind"] == "species"]
    whole = [(side, index) for side in ("left", "right") for index in range(len(data[side]))]
    assert told == (whole if data["form"] == "drawn" else [])
    if not told and whole:
        assert [cell["side"] for cell in cells if cell["kind"] == "side"] == ["left", "right"]


@given(SCHEMES, SIZES)
def test_nothing_is_wider_than_its_place(scheme: Scheme, sizes: Sizes) -> None:
    data = laid_out(scheme, sizes)
    drawings = drawings_data([scheme])
    for row in data["rows"]:
        for width, cell in zip(row["columns"], row["cells"], strict=True):
            if cell["kind"] == "species":
                assert _least_width(data[cell["side"]][cell["index"]], drawings, sizes) <= width
            if cell["kind"] == "arrow":
                small = sizes.smaller(0.82, sizes.base if data["drawn"] else 1.1 * sizes.base)
                assert all(small * pieces_width(line) < width for lines in cell["lines"] for line in lines)


def _least_width(item: dict[str, Any], drawings: dict[str, Any], sizes: Sizes) -> float:
    large, small = 1.1 * sizes.base, sizes.smaller(0.8, sizes.base)
    formula = pieces_width(item["formula"])
    picture = drawings[item["smiles"]]["width"] * sizes.drawings if item["smiles"] else large * formula
    before = large * text_width(item["coefficient"]) + 0.3 * sizes.base if item["coefficient"] else 0
    below = formula if item["smiles"] else 0
    return max(before + picture, small * below, small * longest_word(item["name"]))


def test_drawings_have_the_sizes_that_places_are_made_for() -> None:
    drawings = drawings_data([Scheme((ALCOHOL, WATER), (), "", "", ""), Scheme((ACID,), (), "", "", "", drawn=False)])
    assert drawings["CC(C)CCO"]["width"] == draw("CC(C)CCO").width_pt
    assert set(drawings) == {"CC(C)CCO"}


@settings(max_examples=12, deadline=None)
@given(SCHEMES, st.booleans())
def test_schemes_are_printed_beside_no_margin(scheme: Scheme, compact: bool) -> None:
    document = Document("T", "C", "", "", "a4", "en", (scheme,), compact=compact)
    ((_, pdf),) = compile_all([Job("one", sheet_data(document))], layouts(), workers=1)
    words: dict[str, list[float]] = {}

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        words.setdefault(text.strip(), []).append(line[4] * page[0] + page[4])

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=note)
    said = "".join(words)
    assert all(item.formula[0] in said for item in (*scheme.left, *scheme.right))
    margin = (COMPACT if compact else ROOMY).margin
    places = [place for text, found in words.items() if text for place in found]
    assert all(margin - 1 <= place <= 210 * 72 / 25.4 - margin + 1 for place in places)
