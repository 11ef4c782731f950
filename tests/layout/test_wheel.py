"""The built packages: the wheel works on its own, the sdist holds the whole project."""

from __future__ import annotations

import subprocess
import sys
import tarfile
import tomllib
import venv
import zipfile
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.layout.source_tree import ROOT, product_packages, project_files

pytestmark = pytest.mark.wheel


class Built(NamedTuple):
    """Both packages, and the project's files as they were when these were built."""

    wheel: Path
    sdist: Path
    sources: list[Path]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Build sdist and wheel with the locked hatchling."""
    dist = tmp_path_factory.mktemp("dist")
    sources = project_files()
    # Asked for both, the build takes the wheel from the sources too, not from the sdist.
    run(sys.executable, "-m", "build", "--no-isolation", "--sdist", "--wheel", "-o", dist, ROOT)
    [wheel] = dist.glob("*.whl")
    [sdist] = dist.glob("*.tar.gz")
    return Built(wheel, sdist, sources)


def run(*command: str | Path, cwd: Path | None = None) -> str:
    """Run a command, show its output when it fails, and return what it printed."""
    done = subprocess.run(
        [str(word) for word in command], cwd=cwd, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_wheel_alone_gives_a_working_command(built: Built, tmp_path: Path) -> None:
    # What is locked to run and nothing else: then nothing that the wheel asks for is missing.
    venv.create(tmp_path / "env", with_pip=True)
    programs = tmp_path / "env" / ("Scripts" if sys.platform == "win32" else "bin")
    pip = (programs / "python", "-m", "pip")
    install = (*pip, "install", "--quiet", "--no-deps")

    run(*install, "--require-hashes", "--requirement", ROOT / "requirements.lock")
    run(*install, built.wheel)

    run(*pip, "check")
    assert "Usage: lotkin" in run(programs / "lotkin", "--help", cwd=tmp_path)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    answer = run(programs / "lotkin", "--version", cwd=tmp_path)
    assert answer == f"lotkin {project['version']}\n"
    installed = run(*pip, "list", "--format=freeze")
    assert "pytest" not in installed


def test_the_wheel_holds_every_file_of_every_package(built: Built) -> None:
    with zipfile.ZipFile(built.wheel) as archive:
        inside = {name for name in archive.namelist() if ".dist-info/" not in name}

    expected = {
        path.relative_to(root).as_posix()
        for root in (folder.parent for folder in product_packages().values())
        for path in built.sources
        if path.is_relative_to(root)
    }
    assert inside == expected


def test_the_sdist_holds_every_file_of_the_project(built: Built) -> None:
    with tarfile.open(built.sdist) as archive:
        inside = {name.split("/", 1)[1] for name in archive.getnames()}

    expected = {path.relative_to(ROOT).as_posix() for path in built.sources}
    assert inside - {"PKG-INFO"} == expected - {"PKG-INFO"}
