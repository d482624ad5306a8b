"""Values put into an entry of a course's banks: of its own where it stands, of ours over ours."""

from __future__ import annotations

import tomllib

from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.entries import is_own, with_values

OWN = """# above all

[[reaction]]
id = "one" # first
equation = "water -> water"

# the second
[[reaction]]
id = "two"
[reaction.sessions]
water = 2
"""


def test_one_entry_changes_and_all_else_stays(draft: Draft) -> None:
    own = draft.with_text("banks/reactions.toml", OWN)
    found = with_values(own, "reaction", "one", {"above": "heat", "equation": None})
    assert found.text("banks/reactions.toml") == OWN.replace('equation = "water -> water"\n', 'above = "heat"\n')
    within = with_values(own, "reaction", "two", {"above": "heat"})
    assert tomllib.loads(within.text("banks/reactions.toml"))["reaction"][1] == {
        "id": "two",
        "above": "heat",
        "sessions": {"water": 2},
    }
    assert within.text("banks/reactions.toml").startswith(OWN.partition('[[reaction]]\nid = "two"')[0])


def test_one_of_ours_is_written_over_with_its_source_and_one_of_nobody_is_new(draft: Draft) -> None:
    assert not is_own(draft, "hazard", "acetone")
    found = with_values(draft, "hazard", "acetone", {"pictograms": None, "codes": ["H225"]})
    (entry,) = tomllib.loads(found.text("banks/hazards.toml"))["hazard"]
    assert (entry["of"], entry["signal"], entry["codes"]) == ("acetone", "Danger", ["H225"])
    assert entry["source"].startswith("un-ghs")
    assert list(entry)[-1] == "source"
    assert "pictograms" not in entry
    assert is_own(found, "hazard", "acetone")
    fresh = with_values(draft, "hazard", "nobody", {"codes": []})
    assert fresh.text("banks/hazards.toml") == '[[hazard]]\nof = "nobody"\ncodes = []\n'


def test_the_text_of_an_entry_is_mended_before(draft: Draft) -> None:
    own = draft.with_text("banks/reactions.toml", OWN)
    found = with_values(own, "reaction", "one", {"above": "heat"}, lambda text: text.replace(" # first", ""))
    assert 'id = "one"\nequation' in found.text("banks/reactions.toml")
