from __future__ import annotations

from problemgen.errors import Fault, FaultsError


def test_faults_are_told_once_each_in_the_order_of_file_and_line() -> None:
    keys = ["line 10", "line 2", "line 2", "roster", "", "problem.12.template", "problem.3.template"]
    faults = FaultsError([Fault("a.csv", key, "this", "that") for key in keys]).faults
    assert [fault.key for fault in faults] == [
        "",
        "line 2",
        "line 10",
        "problem.3.template",
        "problem.12.template",
        "roster",
    ]


def test_a_fault_says_where_what_and_what_to_do() -> None:
    fault = Fault("set.toml", "problem.1", "nothing", "a template", "Name one.")
    assert str(fault) == "set.toml: problem.1: found nothing; expected a template. Name one."
    assert str(FaultsError([fault, Fault("a", "", "b", "c")])) == f"a: found b; expected c\n{fault}"
