"""Other processes: what is handed to them comes back, and they are nobody's burden when this one ends."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from problemgen.errors import OutputError
from problemgen.write.endings import ENDINGS
from problemgen.write.processes import helpers, packed_once, unpacked

ROOT = Path(__file__).parents[2]


def test_work_comes_back_in_the_order_in_which_it_is_asked_for() -> None:
    with helpers(2) as two:
        running = [two.submit(divmod, number, 3) for number in range(5)]
        assert [one.result() for one in running] == [divmod(number, 3) for number in range(5)]


def test_each_is_made_ready_first() -> None:
    with helpers(1, os.putenv, ("PROBLEMGEN_READY", "yes")) as one:
        assert one.submit(os.getpid).result() != os.getpid()


def test_they_hear_no_signal_that_asks_for_an_end() -> None:
    with helpers(1) as one:
        process = one.submit(os.getpid).result()
        for number in ENDINGS:
            os.kill(process, number)
        time.sleep(0.2)
        assert one.submit(os.getpid).result() == process
    assert signal.pthread_sigmask(signal.SIG_BLOCK, ()).isdisjoint(ENDINGS)  # this one does


def test_one_that_is_ended_all_the_same_ends_the_run() -> None:
    def run() -> None:
        with helpers(1) as one:
            os.kill(one.submit(os.getpid).result(), signal.SIGKILL)
            one.submit(os.getpid).result()

    with pytest.raises(OutputError) as error:
        run()
    assert str(error.value) == "a process that works for this run was ended from outside; start the run again"


ALONE = """
import os, time
from problemgen.write.processes import helpers
if __name__ == "__main__":
    with helpers(1) as one:
        print(one.submit(os.getpid).result(), flush=True)
        one.submit(time.sleep, 60)
        time.sleep(60)
"""


def test_they_end_with_this_one_also_where_it_is_killed_in_the_middle_of_their_work(tmp_path: Path) -> None:
    (tmp_path / "alone.py").write_text(ALONE, encoding="utf-8")
    command = [sys.executable, str(tmp_path / "alone.py")]
    paths = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=paths) as run:  # noqa: S603 - our own text
        assert run.stdout is not None
        helper = int(run.stdout.readline())
        assert Path(f"/proc/{helper}").exists()
        run.kill()
        run.wait()
    end = time.monotonic() + 10
    while Path(f"/proc/{helper}").exists() and time.monotonic() < end:
        time.sleep(0.05)
    assert not Path(f"/proc/{helper}").exists()


def test_what_all_helpers_need_is_unpacked_once() -> None:
    data = {"a": [1, 2]}
    packed = packed_once(data)
    assert unpacked(packed) == data
    assert unpacked(packed) is unpacked(packed)
