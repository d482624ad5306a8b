"""Links become fields where both agree, and nothing else does."""

from __future__ import annotations

import io

import pikepdf
import pytest

from problemgen.errors import OutputError
from problemgen.load.resources import layouts
from problemgen.model.blocks import Blank, Document, Part, Prose, Table
from problemgen.model.handed_out import Field
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.fields import fields_of
from problemgen.write.fillable import fillable
from problemgen.write.pdf import Job, compile_all

OPTIONS = ((Prose("one"),), (Prose("two"),))
DOCUMENT = Document(
    title="T",
    course="",
    student="",
    code="ABCD-2345",
    paper="a4",
    language="en",
    blocks=(
        Table(
            "Own",
            ((Prose("a"),), (Prose("b"),)),
            (((Prose("m"),), (Blank("1.x.mass", "Mass, g", "____", " g"),)),),
            (False,),
        ),
        Part("p1-01", "a", (Prose("The mass"),), "1 point", "g"),
        Part("p1-02", "b", (Prose("Which?"),), "1 point", "", OPTIONS),
    ),
    on_screen=True,
)


def printed() -> bytes:
    ((_, pdf),) = compile_all([Job("t", sheet_data(DOCUMENT))], layouts())
    return pdf


def test_fields_are_named_and_said_in_order() -> None:
    assert fields_of(DOCUMENT) == (
        Field("1.x.mass", "Mass, g"),
        Field("1a", "Problem 1, part a: The mass Answer in g."),
        Field("1b", "Problem 1, part b: Which?", (("A", "one"), ("B", "two"))),
    )


def test_the_same_sheet_gives_the_same_bytes_and_links_are_gone() -> None:
    first, second = (fillable(printed(), fields_of(DOCUMENT), "stamp {}".format) for _ in range(2))
    assert first == second
    with pikepdf.open(io.BytesIO(first)) as sheet:
        marks = list(sheet.pages[0].obj.Annots)
        assert [str(one.get("/T", "")) for one in marks] == ["1:x:mass", "1a", "", ""]
        assert [sorted(one.AP.N.keys()) for one in marks[2:]] == [["/A", "/Off"], ["/B", "/Off"]]
        assert str(sheet.docinfo["/Keywords"]).startswith("stamp ")


@pytest.mark.parametrize(
    "fields",
    [
        fields_of(DOCUMENT)[:2],
        (*fields_of(DOCUMENT), Field("9z", "more")),
        (*fields_of(DOCUMENT)[:2], Field("1b", "Which?")),
    ],
)
def test_a_link_and_the_fields_that_do_not_agree_are_an_error(fields: tuple[Field, ...]) -> None:
    with pytest.raises(OutputError):
        fillable(printed(), fields, str)
