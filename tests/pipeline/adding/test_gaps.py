"""What nobody knows of a substance yet: found, told, left in its entry."""

from __future__ import annotations

import pytest

from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.facts import Facts
from problemgen.pipeline.adding.gaps import Gap, gaps_of, gaps_there, notes, without_notes


@pytest.mark.parametrize(
    ("facts", "lacking"),
    [
        (Facts("x", "x", "C9H10O"), ["state", "structure"]),
        (Facts("x", "x", "C9H10O", state="liquid", smiles="C"), ["density"]),
        (Facts("x", "x", "C9H10O", why_state="at hand in solution only", smiles="C"), []),
        (Facts("x", "x", "C6H5Li", state="solid"), []),  # no skeleton is drawn of it
        (Facts("x", "x", "NaCl", state="solid"), []),
    ],
)
def test_what_a_new_entry_lacks(facts: Facts, lacking: list[str]) -> None:
    assert [one.what for one in gaps_of(facts)] == lacking
    entry = "".join(f"# {line}\n" for line in notes(facts))
    assert without_notes(f'id = "x"\n{entry}# kept\n') == 'id = "x"\n# kept\n'


def test_of_what_comes_with_the_program_nothing_is_missing_that_a_sheet_needs(draft: Draft) -> None:
    banks = draft.banks
    found = [one for name in banks.substances for one in gaps_there(banks, name) if one.what in ("state", "hazards")]
    assert found == []


def test_each_gap_says_where_it_is_filled_in() -> None:
    assert (
        Gap("x", "x", "state").told == "state at 25 °C, in banks/substances.toml (or --state); until then it is weighed"
    )
    assert Gap("x", "x", "structure").told.endswith("until then sheets show its formula")
