"""What the command says about itself."""

from __future__ import annotations

import sys
from importlib.metadata import version

import pytest
from typer.testing import CliRunner

from lotkin_cli.main import app, run


def test_version_is_the_installed_one() -> None:
    answer = CliRunner().invoke(app, ["--version"])

    assert answer.stdout == f"lotkin {version('lotkin')}\n"
    assert answer.exit_code == 0


def test_help_is_plain_text_that_pipes_well() -> None:
    answer = CliRunner().invoke(app, ["--help"])

    assert answer.stdout.startswith("Usage: lotkin ")
    assert answer.stdout.isascii()
    assert answer.exit_code == 0


def test_an_unknown_option_is_wrong_usage(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    # Exit status 2 as docs promise for wrong usage; through run() as a shell would.
    monkeypatch.setattr(sys, "argv", ["lotkin", "--no-such-option"])

    with pytest.raises(SystemExit) as leaving:
        run()

    assert leaving.value.code == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "--no-such-option" in printed.err
