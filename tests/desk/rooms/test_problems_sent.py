"""What is sent to the room for problems: faults, hostile names and texts, a file that has changed meanwhile."""

from __future__ import annotations

import json
from html import escape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from problemgen.load.sets.courses import course_of
from tests.support.as_shown import as_shown

HOSTILE = "<script>alert(1)</script>"
SILVER = "limiting-reagent/silver-chromate"


def sent(course: Path, name: str = SILVER, to: str | None = None, **changes: Any) -> dict[str, str]:
    """What the page sends of a template; `to` makes it a new one of another name."""
    there = course_of(course)
    text = there.templates[name].read_text(encoding="utf-8")
    same = as_shown(to or name, text, there.banks(), new=to is not None)
    return {"template": json.dumps({**json.loads(same.model_dump_json()), **changes}), "draw": "1"}


def test_a_shipped_one_becomes_a_copy_in_the_course(course: Path, client: TestClient) -> None:
    answer = client.post("/save-problem", data=sent(course, title="Silver chromate, ours"))
    assert answer.json() == {"go": f"/problems/{SILVER}?saved=1"}
    text = (course / f"templates/{SILVER}.toml").read_text(encoding="utf-8")
    assert text == course_of(Path()).templates[SILVER].read_text(encoding="utf-8").replace(
        "Silver chromate from two solutions", "Silver chromate, ours"
    )
    assert "Silver chromate, ours" in client.get("/problems").text
    assert f"templates/{SILVER}.toml" in client.get(f"/problems/{SILVER}").text


def test_a_preview_has_the_sheet_the_key_and_the_file(course: Path, client: TestClient) -> None:
    shown = client.post("/preview-problem", data=sent(course)).text
    assert "data:image/svg+xml;base64," in shown
    assert "Accepted from" in shown
    assert "potassium chromate" in shown
    assert "[given.silver-nitrate]" in shown
    assert not (course / "templates" / "limiting-reagent").exists()


def test_faults_stand_in_the_preview_and_nothing_is_saved(course: Path, client: TestClient) -> None:
    parts = [{"was": 0, "session": 1, "points": "x"}, {"keys": {"quantity": "colour", "of": "product"}, "session": 1}]
    for changes in ({"parts": parts}, {"parts": []}, {"difficulty": 9}, {"id": "nowhere"}):
        shown = client.post("/preview-problem", data=sent(course, **changes))
        assert shown.status_code == 200
        assert "data-fault=" in shown.text
        answer = client.post("/save-problem", data=sent(course, **changes))
        assert answer.status_code == 422
        assert answer.headers["x-desk"] == "fragment"
    assert not (course / "templates").exists()


def test_a_file_that_has_changed_meanwhile_is_not_overwritten(course: Path, client: TestClient) -> None:
    assert client.post("/save-problem", data=sent(course)).status_code == 200
    mine = sent(course, title="Mine")
    path = course / f"templates/{SILVER}.toml"
    path.write_text("# theirs\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    answer = client.post("/save-problem", data=mine)
    assert answer.status_code == 422
    assert "changed meanwhile" in answer.text
    assert path.read_text(encoding="utf-8").startswith("# theirs")


def test_a_new_one_takes_no_name_that_is_taken(course: Path, client: TestClient) -> None:
    assert client.post("/save-problem", data=sent(course, to="own/silver")).status_code == 200
    for name in ("own/silver", "titrations/borax"):
        answer = client.post("/save-problem", data=sent(course, to=name))
        assert answer.status_code == 422
        assert "a name that is free" in answer.text


@pytest.mark.parametrize(
    "name",
    ["../outside", "own/../../x", "own/.hidden", "/etc/x", "own\\x", "sets/x", "layouts/x", "own/Ü", "own//x", ""],
)
def test_a_name_that_leads_elsewhere_is_refused(name: str, course: Path, client: TestClient) -> None:
    before = sorted(course.parent.rglob("*"))
    assert client.post("/save-problem", data=sent(course, id=name, seen="")).status_code in (404, 422)
    assert client.post("/preview-problem", data=sent(course, id=name)).status_code in (200, 404)
    assert sorted(course.parent.rglob("*")) == before


def test_a_link_is_not_followed(course: Path, client: TestClient, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (course / "templates").mkdir()
    (course / "templates" / "own").symlink_to(outside)
    assert client.post("/save-problem", data=sent(course, to="own/silver")).status_code == 404
    assert list(outside.iterdir()) == []


def test_names_and_texts_are_never_markup(course: Path, client: TestClient) -> None:
    changes = {"title": HOSTILE, "story": HOSTILE, "trains": HOSTILE, "topic": HOSTILE}
    shown = client.post("/preview-problem", data=sent(course, **changes)).text
    assert HOSTILE not in shown
    assert "&lt;script&gt;" in shown
    assert client.post("/save-problem", data=sent(course, to="own/silver", **changes)).status_code == 200
    for place in ("/problems", "/problems/own/silver"):
        assert HOSTILE not in client.get(place).text
    faults = {"given": {HOSTILE: {"values": {HOSTILE: {"from": HOSTILE}}}}}
    assert HOSTILE not in client.post("/preview-problem", data=sent(course, **faults)).text


@pytest.mark.parametrize("data", ["", "[]", "{", '{"title": 1}', '{"parts": [{"was": 99}]}'])
def test_what_is_no_template_is_told(data: str, client: TestClient) -> None:
    assert client.post("/save-problem", data={"template": data}).status_code == 422
    assert "data-fault" in client.post("/preview-problem", data={"template": data}).text


@pytest.mark.parametrize(
    "place", ["/problems/no/such", "/new-problem?reaction=none", "/structure/none", "/structure/..%2fx"]
)
def test_what_is_not_there_is_not_shown(place: str, client: TestClient) -> None:
    assert client.get(place).status_code == 404


def test_a_part_of_another_file_is_refused(course: Path, client: TestClient) -> None:
    answer = client.post("/save-problem", data=sent(course, parts=[{"was": 99, "session": 1}]))
    assert answer.status_code == 422


def test_reactions_of_the_course_are_found_and_hostile_equations_are_told(course: Path, client: TestClient) -> None:
    shown = client.post("/new-reaction/look", data={"equation": f"benzaldehyde + {HOSTILE} -> x"})
    assert shown.status_code == 422
    assert HOSTILE not in shown.text
    assert not (course / "banks" / "reactions.toml").exists()


def test_a_substance_is_added_and_its_name_is_no_markup(client: TestClient) -> None:
    answer = client.post("/new-substance", data={"name": "<i>novelol</i>", "formula": "C9H12O2", "density": "1.05"})
    assert answer.status_code in (200, 422)
    assert "<i>novelol" not in answer.text
    answer = client.post("/new-substance", data={"name": "novelol", "smiles": "C(C"})
    assert answer.status_code == 422


def test_a_formula_of_atoms_left_over_is_to_be_looked_at(client: TestClient) -> None:
    """Two of one reactant: without its number the formula comes out too small, and nothing else would tell."""
    text = "4-nitrobenzaldehyde + acetone -> bisadduct + water"
    once = client.post("/new-reaction/look", data={"equation": text}).text
    assert "Nobody knows “bisadduct”" in once
    assert "(191.2 g/mol)" in once
    assert '<input type="checkbox" required>' in once
    twice = client.post("/new-reaction/look", data={"equation": f"2 {text[:-5]}2 water\n"}).text
    assert "(324.3 g/mol)" in twice
    assert '<span class="nu">2</span>' in twice
    told = client.post("/new-reaction/look", data={"equation": text, "product_formula": "C10H9NO3"}).text
    assert "Nobody knows" not in told


KETONE = "1,5-bis(4-nitrophenyl)penta-1,4-dien-3-one"
DIENONE = f"2 4-nitrobenzaldehyde + acetone -> {KETONE} + 2 water"


def test_a_substance_that_is_there_is_completed(course: Path, client: TestClient) -> None:
    assert client.post("/new-reaction/add", data={"equation": DIENONE}).status_code == 200
    sent_first = {"name": "4-nitrobenzaldehyde", "hazards": "Warning H317 H319 H412"}
    shown = client.post("/new-substance", data=sent_first).text
    assert "Written into the course&#39;s banks." in shown
    assert "<strong>Warning</strong> H317 May cause an allergic skin reaction" in shown
    smiles = "O=C(/C=C/c1ccc(cc1)[N+]([O-])=O)/C=C/c1ccc(cc1)[N+]([O-])=O"
    shown = client.post("/new-substance", data={"name": KETONE, "smiles": smiles, "state": "solid"}).text
    assert 'class="structure"' in shown
    assert "hazard statements; until then" in shown
    banks = course_of(course).banks()
    assert banks.hazards["4-nitrobenzaldehyde"].codes == ("H317", "H319", "H412")
    assert next(one for one in banks.substances.values() if one.name == KETONE).smiles == smiles
    again = client.post("/new-substance", data=sent_first).text
    assert "The banks have all of this already; nothing was changed." in again


def test_a_contradiction_is_told_and_nothing_is_written(course: Path, client: TestClient) -> None:
    before = (course / "banks/substances.toml").read_bytes()
    answer = client.post("/new-substance", data={"name": "acetone", "formula": "C3H8O", "hazards": "H999"})
    assert answer.status_code == 422
    assert "2 faults; nothing was written." in answer.text
    assert "C3H6O, as the banks have acetone" in answer.text
    assert (course / "banks/substances.toml").read_bytes() == before
    assert not (course / "banks/hazards.toml").exists()


def test_a_cas_number_is_no_name(course: Path, client: TestClient) -> None:
    assert client.post("/new-substance", data={"name": "534-22-5", "density": "0.910"}).status_code == 200
    assert course_of(course).banks().substances["2-methylfuran"].name == "2-methylfuran"


def test_what_stands_at_the_arrow_is_written_and_warned_of(course: Path, client: TestClient) -> None:
    arrow = {"above": "NaOH (catalyst), ethanol", "below": "room temperature", "auxiliaries": "NaOH\r\nethanol"}
    shown = client.post("/new-reaction/look", data={"equation": DIENONE, **arrow}).text
    assert '<span class="arrow"><span>NaOH (catalyst), ethanol</span>' in shown
    assert "<dt>sodium hydroxide</dt><dd><strong>Danger</strong> H290 May be corrosive to metals" in shown
    assert not (course / "banks/reactions.toml").exists()
    assert client.post("/new-reaction/add", data={"equation": DIENONE, **arrow}).status_code == 200
    (one,) = (one for one in course_of(course).banks().reactions.values() if one.above == arrow["above"])
    assert one.auxiliaries == ("sodium-hydroxide", "ethanol")
    page = client.get("/new-problem").text
    assert f"&#34;equation&#34;: &#34;{escape(DIENONE)}&#34;" in page
    assert "&#34;auxiliaries&#34;: &#34;sodium hydroxide\\nethanol&#34;" in page
    assert "What stands at its arrow" in page
    hostile = client.post("/new-reaction/add", data={"equation": DIENONE, "above": HOSTILE})
    assert hostile.status_code == 200
    assert HOSTILE not in client.get("/new-problem").text
    assert HOSTILE not in client.post("/new-reaction/look", data={"equation": DIENONE, "above": HOSTILE}).text


def test_remarks_are_told_in_the_words_of_the_page(course: Path, client: TestClient) -> None:
    parts = [{"was": number, "session": 1 if number else 2} for number in range(5)]
    shown = client.post("/preview-problem", data=sent(course, parts=parts)).text
    assert (
        '<b>What is asked</b>: <span class="found">found (c), (d), (e), (f), (g) behind a part of a later session; '
        "expected parts in the order of their sessions, for their letters run on.</span> "
        '<span class="hint">Put each at the end of its own session.</span>'
    ) in shown


def test_an_offered_question_is_its_buttons_label_and_has_a_unit(course: Path, client: TestClient) -> None:
    shown = client.post("/preview-problem", data=sent(course)).text
    assert '<button id="ask-1" type="button" data-ask' in shown
    assert '<label for="ask-1">' in shown
    assert 'data-units="[[&#34;&#34;, &#34;g&#34;], [&#34;mg&#34;, &#34;mg&#34;]' in shown
