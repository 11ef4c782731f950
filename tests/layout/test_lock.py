"""The lock pins what pyproject.toml asks for, and every file it allows has a hash."""

from __future__ import annotations

import re
import tomllib

from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

from tests.layout.source_tree import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
LOCK = (ROOT / "requirements.lock").read_text("utf-8")
# A locked requirement starts at the line's edge; its hashes are on the indented lines after it.
PINNED = [(Requirement(block.split(" \\")[0]), block) for block in re.split(r"\n(?=\S)", LOCK)]


def specifiers_pinned_for(name: str) -> list[SpecifierSet]:
    return [
        pin.specifier for pin, _ in PINNED if canonicalize_name(pin.name) == canonicalize_name(name)
    ]


def test_every_locked_package_has_one_exact_version_and_hashes() -> None:
    wrong = [
        str(pin)
        for pin, block in PINNED
        if not re.fullmatch(r"==[^,*]+", str(pin.specifier)) or "--hash=sha256:" not in block
    ]

    assert PINNED
    assert wrong == []


def test_the_lock_agrees_with_every_bound_in_pyproject() -> None:
    wanted = [
        Requirement(line)
        for line in PROJECT["dependencies"] + PROJECT["optional-dependencies"]["dev"]
    ]

    disagreeing = []
    for requirement in wanted:
        pins = specifiers_pinned_for(requirement.name)
        versions = [str(pin).removeprefix("==") for pin in pins]
        if not versions or not all(requirement.specifier.contains(v) for v in versions):
            disagreeing.append(f"{requirement} against {versions}")
    assert disagreeing == []


def test_what_windows_alone_needs_is_locked_for_windows_alone() -> None:
    colorama = next(pin for pin, _ in PINNED if pin.name == "colorama")

    assert colorama.marker is not None
    assert colorama.marker.evaluate({"os_name": "nt", "sys_platform": "win32"})
    assert not colorama.marker.evaluate({"os_name": "posix", "sys_platform": "linux"})
