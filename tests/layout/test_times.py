"""A run says at its end where its time went."""

from __future__ import annotations

from types import SimpleNamespace

from tests.times import lines_by_folder, seconds_by_folder

REPORTS = [
    SimpleNamespace(nodeid="tests/core/scan/test_reading.py::test_a", duration=0.5),
    SimpleNamespace(nodeid="tests/core/scan/test_reading.py::test_a", duration=1.0),
    SimpleNamespace(nodeid="tests/core/plan/test_zones.py::test_b[x::y]", duration=0.25),
    SimpleNamespace(nodeid="tests/uses/test_random_histories.py::test_c", duration=4.0),
]


def test_a_test_counts_once_and_its_setting_up_takes_time_too() -> None:
    assert list(seconds_by_folder(REPORTS).items()) == [
        ("tests/uses", (1, 4.0)),
        ("tests/core", (2, 1.75)),
    ]


def test_the_slowest_folder_comes_first_and_all_of_them_last() -> None:
    assert lines_by_folder(REPORTS) == [
        "tests/uses      1       4.0 s",
        "tests/core      2       1.8 s",
        "all             3       5.8 s",
    ]


def test_a_run_in_one_folder_says_nothing_of_folders() -> None:
    assert lines_by_folder(REPORTS[:3]) == []
