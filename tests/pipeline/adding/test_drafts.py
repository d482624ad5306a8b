"""Drafts: a file keeps what it holds, and nothing is written that the banks would refuse."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import FaultsError, OutputError
from problemgen.load.sets.courses import Course
from problemgen.pipeline.adding.drafts import Draft, draft_of, entry_text

WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=30)


@given(WORDS, st.decimals(0, 1000, places=3), st.lists(WORDS, max_size=3), WORDS)
def test_an_entry_is_read_as_it_was_meant(text: str, number: Decimal, several: list[str], remark: str) -> None:
    values = {"id": text, "value": {"value": number, "unit": "g"}, "names": several}
    read = tomllib.loads(entry_text("[[one]]", values, {"id": remark}, [remark]), parse_float=Decimal)
    assert read == {"one": [values]}
    assert str(read["one"][0]["value"]["value"]) == str(number)


def test_a_file_keeps_every_letter_that_it_holds(draft: Draft) -> None:
    before = '# mine\n[[substance]]\nid = "a"   # so\n\n\n'
    after = draft.with_text("banks/substances.toml", before).with_entry("substances", '[[substance]]\nid = "b"\n')
    text = after.text("banks/substances.toml")
    assert text == before.rstrip() + '\n\n[[substance]]\nid = "b"\n'
    assert not (draft.folder / "banks" / "hazards.toml").exists()


def test_a_file_that_can_take_no_entry_is_told(draft: Draft) -> None:
    listed = draft.with_text("banks/substances.toml", "substance = []\n")
    with pytest.raises(FaultsError, match=r"substances.toml: found a file to which no entry can be added: .*;"):
        listed.with_entry("substances", '[[substance]]\nid = "b"\n')


def test_faults_of_the_banks_name_the_file_of_the_course(draft: Draft) -> None:
    bad = draft.with_entry("substances", '[[substance]]\nid = "b"\nname = "b"\nformula = "Xx"\n')
    with pytest.raises(FaultsError) as caught:
        bad.banks  # noqa: B018 - reading them is the test
    assert str(caught.value).startswith(f"{draft.folder}/banks/substances.toml: b.formula: found formula 'Xx'")


def test_outside_a_course_it_is_said_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        draft_of(Course(), tmp_path)
    hint = "`problemgen new FOLDER` makes one; go into it, and say the same again."
    expected = "a folder with course.toml, or one inside it"
    assert str(caught.value) == f"{tmp_path}: found no course; expected {expected}. {hint}"


def test_what_somebody_else_has_added_meanwhile_is_not_lost(draft: Draft) -> None:
    mine = draft.with_entry("substances", '[[substance]]\nid = "b"\n')
    draft.with_entry("substances", '[[substance]]\nid = "a"\n').write()
    with pytest.raises(OutputError) as error:
        mine.write()
    path = draft.folder / "banks" / "substances.toml"
    assert str(error.value) == f"{path} was changed meanwhile by another run; nothing was written. Say the same again"
    assert 'id = "a"' in path.read_text(encoding="utf-8")
    assert 'id = "b"' not in path.read_text(encoding="utf-8")


def test_several_entries_of_one_draft_are_no_change_by_others(draft: Draft) -> None:
    both = draft.with_entry("substances", '[[substance]]\nid = "a"\n').with_entry(
        "substances", '[[substance]]\nid = "b"'
    )
    both.write()
    text = (draft.folder / "banks" / "substances.toml").read_text(encoding="utf-8")
    assert 'id = "a"' in text
    assert 'id = "b"' in text
