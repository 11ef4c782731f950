"""`import lotkin` is cheap: what a program asks for loads when it is asked for."""

from __future__ import annotations

import subprocess
import sys

PROGRAM = "import sys; before = set(sys.modules); import lotkin; print(*set(sys.modules) - before)"


def test_importing_lotkin_loads_none_of_its_rooms_and_no_library() -> None:
    answer = subprocess.run(
        [sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=True
    )

    loaded = {name.partition(".")[0] for name in answer.stdout.split()}
    assert {name for name in answer.stdout.split() if name.startswith("lotkin")} == {"lotkin"}
    assert loaded - set(sys.stdlib_module_names) == {"lotkin"}


def test_the_version_and_open_are_there_without_asking_for_more() -> None:
    program = "import lotkin; print(lotkin.__version__, lotkin.open.__name__)"

    answer = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )

    assert answer.stdout.split()[1] == "open"
