"""What trying a template out tells beside the faults of reading and of room."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.load.templates.template import load_template
from problemgen.model.template import Template
from problemgen.pipeline import template_trial
from problemgen.pipeline.template_trial import TemplateTrial, tried
from tests.support.small_set import banks

TEXT = """\
title = "Salt"
topic = "tests"
difficulty = 1
trains = "amounts"
story = "Salt is weighed."
[given.sodium-chloride]
mass = { from = 2.000, to = 30.000, unit = "g", read = "balance-0.001" }
[[part]]
quantity = "amount"
of = "sodium-chloride"
unit = "mmol"
prompt = "How much is it?"
[[part]]
quantity = "count"
of = "sodium-chloride"
unit = "molecules"
"""


def template(folder: Path, text: str) -> tuple[Template, Path]:
    path = folder / "t.toml"
    path.write_text(text, encoding="utf-8")
    return load_template(path, "t", banks()), path


def told(trial: TemplateTrial, path: Path) -> list[str]:
    return [str(one).removeprefix(f"{path}: ") for one in (*trial.faults, *trial.remarks)]


def test_of_a_good_template_there_is_nothing_to_say(tmp_path: Path) -> None:
    assert tried(*template(tmp_path, TEXT)) == TemplateTrial((), (), kept=1.0)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            'trains = "amounts"\n',
            "",
            ["trains: found nothing; expected what the template trains: `problemgen list` finds it by that"],
        ),
        ('"Salt is weighed."', '"""\none\ntwo\nthree\nfour\n"""', ["story: found 4 lines; expected 3 at most"]),
        (
            '"Salt is weighed."',
            f'"{"salt " * 25}"',
            ["story: found a line of 124 characters; expected 120 at most"],
        ),
        (
            'unit = "molecules"\n',
            'unit = "molecules"\nprompt = "How much is it?"\n',
            ["part: found 'How much is it?' in (b) as in (a); expected a prompt that asks something of its own"],
        ),
        (
            '"How much is it?"',
            '"how much?"',
            ["part: found 'how much?' in (a); expected a prompt that begins with a capital letter"],
        ),
        (
            '"How much is it?"',
            '"How _much_?"',
            ["part: found 'How _much_?' in (a); expected a prompt without any of { } < > _"],
        ),
        (
            'prompt = "How much is it?"\n',
            'prompt = "How much is it?"\nsession = 2\n',
            [
                (
                    "part: found (b) behind a part of a later session; expected parts in the order of their sessions, "
                    "for their letters run on. Put each at the end of its own session."
                )
            ],
        ),
        (
            "from = 2.000, to = 30.000",
            "from = 2.000, to = 3.000",
            [
                (
                    "given: found 1001 combinations of drawn numbers; expected 20000 or more. Widen the ranges, or "
                    "read them on a finer scale."
                )
            ],
        ),
        (
            'mass = { from = 2.000, to = 30.000, unit = "g", read = "balance-0.001" }',
            'mass = { choose = [0.11, 0.12], unit = "g" }',
            [
                (
                    "given: found 2 combinations of drawn numbers; expected 20000 or more. Widen the ranges, or read "
                    "them on a finer scale."
                ),
                *(
                    f"part: found a window of ± {wide} % in ({part}); expected less than ± 2 %. Give more figures, or "
                    "ask for something other than a small difference."
                    for part, wide in (("a", "3.0"), ("b", "5.2"))
                ),
            ],
        ),
    ],
)
def test_what_is_weaker_than_in_shipped_templates_is_remarked(
    tmp_path: Path, old: str, new: str, expected: list[str]
) -> None:
    assert old in TEXT
    one, path = template(tmp_path, TEXT.replace(old, new))
    trial = tried(one, path)
    assert trial.faults == ()
    assert told(trial, path) == expected


@pytest.mark.parametrize("most", ["30.000", "2.400"])
def test_the_first_candidates_tell_what_all_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, most: str) -> None:
    """With plenty of room, and with combinations so few that a remark is due."""
    one, path = template(tmp_path, TEXT.replace("to = 30.000", f"to = {most}"))
    few = tried(one, path)
    monkeypatch.setattr(template_trial, "_FEW", 2000)
    assert tried(one, path) == few


def test_a_value_that_is_told_after_it_is_needed_is_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No template leads to it: what a part needs is printed by its session. A sheet that forgets it is found out."""
    one, path = template(tmp_path, TEXT)
    monkeypatch.setattr(template_trial, "problem_blocks", lambda _variant, _session: ())
    assert [(fault.key, fault.found, fault.expected) for fault in tried(one, path).faults] == [
        (
            "given",
            f"mass(sodium-chloride), which part ({part}) needs and no sheet tells up to its session",
            "a value that is told before it is needed",
        )
        for part in ("a", "b")
    ]


def test_an_equation_to_balance_is_tried_as_it_is(tmp_path: Path) -> None:
    text = 'title = "T"\ntopic = "t"\ndifficulty = 1\ntrains = "x"\nreaction = "propane-combustion"\n'
    one, path = template(tmp_path, f'{text}[[part]]\nquantity = "balanced_equation"\n')
    assert tried(one, path) == TemplateTrial((), ())
    mute = replace(one, parts=tuple(replace(part, prompt="balance it") for part in one.parts))
    assert told(tried(mute, path), path) == [
        "part: found 'balance it' in (a); expected a prompt that begins with a capital letter"
    ]
