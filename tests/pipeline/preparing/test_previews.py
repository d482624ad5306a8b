"""A template seen before it is used: the sheet in pictures, the key, what it can show."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.language.messages import speaking
from problemgen.load.sets.courses import Course
from problemgen.model.blocks import Paragraph
from problemgen.model.problem_set import Sheet
from problemgen.pipeline.preparing.previews import Look, Previewer
from problemgen.render.printers.terminal import text_lines

SHIPPED = Course()
LOOK = Look((Sheet(1, "Before the session"), Sheet(2, "After the session"), Sheet(3, "After the second session")))


@pytest.fixture(scope="module")
def previewer() -> Previewer:
    return Previewer()


def test_both_sheets_the_key_and_what_limits_are_there(previewer: Previewer) -> None:
    name = "limiting-reagent/silver-chromate"
    seen = previewer.preview(SHIPPED.templates[name], name, SHIPPED.banks(), LOOK)
    assert seen.faults == ()
    assert seen.pages
    assert all(page.startswith(b"<svg ") for page in seen.pages)
    assert seen.told
    assert seen.answers
    assert seen.working
    assert [one.name for one in seen.limits] == ["silver nitrate", "potassium chromate"]
    assert sum(one.of_draws for one in seen.limits) == pytest.approx(1)
    assert [one.of_class for one in seen.limits] == [0.5, 0.5]
    assert seen.kept is not None
    assert 0.5 < seen.kept <= 1
    assert "silver nitrate" in {one.of for one in seen.mistakes}


def test_amounts_are_those_of_the_ends_of_the_ranges(previewer: Previewer) -> None:
    name = "limiting-reagent/silver-chromate"
    silver, chromate = previewer.preview(SHIPPED.templates[name], name, SHIPPED.banks(), LOOK).amounts
    # 27.00 mL × 0.09800 mol/L = 2.646 mmol; 30.00 × 0.1020 = 3.060; 12.00 × 0.08500 = 1.020; 14.00 × 0.1550 = 2.170
    assert (silver.low, silver.high, silver.equivalents) == ("2.65", "3.06", "1.00")
    assert (chromate.low, chromate.high, chromate.equivalents) == ("1.02", "2.17", "0.52")


def test_another_student_has_other_numbers_and_the_same_one_the_same(previewer: Previewer) -> None:
    name = "preparations/aspirin"
    path, banks = SHIPPED.templates[name], SHIPPED.banks()
    first, second, again = (
        previewer.preview(path, name, banks, Look(LOOK.sheets, draw=draw)) for draw in ("1", "2", "1")
    )
    assert first.answers == again.answers
    assert first.pages == again.pages
    assert first.answers != second.answers


def test_a_template_without_room_tells_why_and_shows_no_sheet(previewer: Previewer, tmp_path: Path) -> None:
    name = "limiting-reagent/silver-chromate"
    text = SHIPPED.templates[name].read_text(encoding="utf-8")
    path = tmp_path / "narrow.toml"
    path.write_text(text.replace("from = 12.00, to = 14.00", "from = 19.50, to = 19.55"), encoding="utf-8")
    seen = previewer.preview(path, "narrow", SHIPPED.banks(), LOOK)
    assert seen.faults
    assert seen.amounts


def test_a_file_that_is_no_template_is_refused(previewer: Previewer, tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    path.write_text("title = 3\n", encoding="utf-8")
    with pytest.raises(FaultsError):
        previewer.preview(path, "none", SHIPPED.banks(), LOOK)


def test_a_template_with_the_same_numbers_for_all_is_told(previewer: Previewer, tmp_path: Path) -> None:
    path = tmp_path / "fixed.toml"
    path.write_text(
        'title = "x"\ntopic = "y"\ndifficulty = 1\n[given.salicylic-acid]\nmass = { value = 2.00, unit = "g" }\n'
        '[[part]]\nquantity = "amount"\nof = "salicylic-acid"\n',
        encoding="utf-8",
    )
    seen = previewer.preview(path, "fixed", SHIPPED.banks(), LOOK)
    assert [one.key for one in seen.faults] == ["given"]
    assert seen.pages == ()


def test_names_are_said_in_the_language_spoken_and_the_sheet_in_its_own(previewer: Previewer) -> None:
    name = "preparations/aspirin"
    path, banks = SHIPPED.templates[name], SHIPPED.banks()
    english = previewer.preview(path, name, banks, LOOK)
    with speaking("de"):
        german = previewer.preview(path, name, banks, LOOK)
        german_sheet = previewer.preview(path, name, banks, replace(LOOK, language="de"))
    assert [one.name for one in german.limits] == ["Salicylsäure", "Essigsäureanhydrid"]
    asked = "\n".join(text_lines([Paragraph(one.words) for one in german.questions]))
    assert "Masse von Essigsäureanhydrid" in asked
    assert "acetic anhydride" not in asked
    assert {one.part["quantity"] for one in german.questions} == {one.part["quantity"] for one in english.questions}
    assert german.pages == english.pages != german_sheet.pages
    again = previewer.preview(path, name, banks, LOOK)
    assert again.questions == english.questions
