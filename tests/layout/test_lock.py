"""The locks pin what pyproject.toml asks for, and every file they allow has a hash."""

from __future__ import annotations

import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

from tests.layout.source_tree import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
EXTRAS = PROJECT["optional-dependencies"]


def pinned_in(lock: str) -> list[tuple[Requirement, str]]:
    """Read a lock: a requirement starts at the line's edge, its hashes are indented after it."""
    text = (ROOT / lock).read_text("utf-8")
    return [(Requirement(block.split(" \\")[0]), block) for block in re.split(r"\n(?=\S)", text)]


TO_RUN = pinned_in("requirements.lock")
PINNED = pinned_in("requirements-dev.lock")


def specifiers_pinned_for(name: str) -> list[SpecifierSet]:
    return [
        pin.specifier for pin, _ in PINNED if canonicalize_name(pin.name) == canonicalize_name(name)
    ]


def test_every_locked_package_has_one_exact_version_and_hashes() -> None:
    wrong = [
        str(pin)
        for pin, block in PINNED + TO_RUN
        if not re.fullmatch(r"==[^,*]+", str(pin.specifier)) or "--hash=sha256:" not in block
    ]

    assert PINNED
    assert wrong == []


def test_the_lock_agrees_with_every_bound_in_pyproject() -> None:
    wanted = [
        Requirement(line) for line in PROJECT["dependencies"] + EXTRAS["source"] + EXTRAS["dev"]
    ]

    disagreeing = []
    for requirement in wanted:
        pins = specifiers_pinned_for(requirement.name)
        versions = [str(pin).removeprefix("==") for pin in pins]
        if not versions or not all(requirement.specifier.contains(v) for v in versions):
            disagreeing.append(f"{requirement} against {versions}")
    assert disagreeing == []


def test_what_windows_alone_needs_is_locked_for_windows_alone() -> None:
    colorama = next(pin for pin, _ in TO_RUN if pin.name == "colorama")

    assert colorama.marker is not None
    assert colorama.marker.evaluate({"os_name": "nt", "sys_platform": "win32"})
    assert not colorama.marker.evaluate({"os_name": "posix", "sys_platform": "linux"})


def test_what_running_needs_is_locked_as_developers_have_it() -> None:
    tested = {(pin.name, str(pin.specifier)) for pin, _ in PINNED}

    assert {(pin.name, str(pin.specifier)) for pin, _ in TO_RUN} < tested


def test_running_takes_no_tool_of_developers() -> None:
    tools = {canonicalize_name(Requirement(line).name) for line in EXTRAS["dev"]}

    assert not tools & {canonicalize_name(pin.name) for pin, _ in TO_RUN}


@pytest.mark.parametrize("target", ["demo", "demo-serve"])
def test_the_demo_installs_what_running_needs_and_nothing_else(target: str, tmp_path: Path) -> None:
    for name in ("Makefile", "pyproject.toml", "requirements.lock", "requirements-dev.lock"):
        shutil.copy(ROOT / name, tmp_path)

    done = subprocess.run(
        ["make", "--dry-run", target], cwd=tmp_path, capture_output=True, text=True, check=True
    )

    assert re.findall(r"--requirement (\S+)", done.stdout) == ["requirements.lock"]
