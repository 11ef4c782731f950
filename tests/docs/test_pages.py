"""The commands and the Python on the pages do what the pages say."""

from __future__ import annotations

import doctest
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from sybil.document import Document
from sybil.example import SybilFailure
from sybil.parsers.markdown import PythonCodeBlockParser

from lotkin.core.events import EVENTS
from lotkin.core.events.reading import parse_line
from tests.docs.pages import FENCE, Command, SavedFile, matches, steps

ROOT = Path(__file__).parent.parent.parent
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
READ_PYTHON = PythonCodeBlockParser(doctest_optionflags=doctest.ELLIPSIS)
WITH_COMMANDS = [page for page in PAGES if "```console" in page.read_text(encoding="utf-8")]


def test_there_are_pages_with_commands() -> None:
    assert ROOT / "README.md" in WITH_COMMANDS
    assert ROOT / "docs" / "tutorial.md" in WITH_COMMANDS


@pytest.mark.parametrize("page", WITH_COMMANDS, ids=lambda page: str(page.relative_to(ROOT)))
def test_the_commands_of_a_page_print_what_it_says(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # what Python a page has comes after its commands
    folder = Path(sys.executable).parent
    environment = os.environ | {"PATH": f"{folder}{os.pathsep}{os.environ['PATH']}"}
    environment.pop("LOTKIN_DB", None)
    environment["LOGNAME"] = "ida"
    for step in steps(page.read_text(encoding="utf-8")):
        if isinstance(step, SavedFile):
            (tmp_path / step.name).write_text(step.text, encoding="utf-8")
            continue
        assert isinstance(step, Command)
        done = subprocess.run(
            step.line,
            shell=True,  # the pages show a shell
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
        )
        printed = done.stdout + done.stderr
        assert matches(step.output, printed), f"$ {step.line}\n{printed}"
    monkeypatch.chdir(tmp_path)
    for example in Document.parse(str(page), READ_PYTHON).examples():
        example.evaluate()


def test_no_python_stands_on_a_page_without_commands() -> None:
    with_python = {page for page in PAGES if "```python" in page.read_text(encoding="utf-8")}

    assert ROOT / "docs" / "guides" / "python.md" in with_python
    assert with_python <= set(WITH_COMMANDS)


def test_python_that_prints_something_else_is_noticed(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("```python\n>>> 1 + 1\n3\n```\n", encoding="utf-8")

    [example] = Document.parse(str(page), READ_PYTHON).examples()

    with pytest.raises(SybilFailure):
        example.evaluate()


def test_an_ellipsis_stands_for_any_text_of_a_line() -> None:
    assert matches("last hash …\n", "last hash 3f2a\n")
    assert not matches("last hash …\n", "last hash 3f2a\nmore\n")


def test_a_line_of_an_ellipsis_stands_for_any_lines() -> None:
    assert matches("first\n…\nlast\n", "first\na\nb\nlast\n")
    assert matches("first\n…\nlast\n", "first\nlast\n")
    assert not matches("first\n…\nlast\n", "first\na\n")


GUIDES = sorted((ROOT / "docs").rglob("*.md"))


def _json_lines() -> list[tuple[str, str]]:
    found = []
    for page in GUIDES:
        for language, _, text in FENCE.findall(page.read_text(encoding="utf-8")):
            if language == "json":
                found += [(page.name, line) for line in text.splitlines()]
    return found


@pytest.mark.parametrize(("page", "line"), _json_lines())
def test_the_events_on_the_pages_are_events(page: str, line: str) -> None:
    assert parse_line(line, page).kind in EVENTS


def test_the_guide_shows_most_kinds_of_events() -> None:
    shown = {parse_line(line, page).kind for page, line in _json_lines()}
    assert len(shown) >= 15


def test_links_between_pages_lead_somewhere() -> None:
    for page in [*PAGES, ROOT / "DEVELOPERS.md"]:
        for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{page.name}: {target}"
