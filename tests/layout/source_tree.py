"""Where the repository is and which files belong to it."""

from __future__ import annotations

import subprocess
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# What the tools write beside the sources; only needed where git cannot say it (in an sdist).
_NOT_SOURCES = {"build", "dist", "demo-works", "htmlcov", "__pycache__", "PKG-INFO"}


def product_packages() -> dict[str, Path]:
    """Give the folder of each package that is installed, by its name, as the project file says."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    folders = project["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"]
    return {Path(folder).name: ROOT / folder for folder in folders}


def project_files() -> list[Path]:
    """List the files of the project, sorted.

    In a git checkout: those in the index and the new ones that are not ignored, so that a
    file is checked before it is committed. In an unpacked sdist: all but the tools' own.
    """
    if (ROOT / ".git").exists():
        command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
        listed = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
        found = (ROOT / name for name in listed.stdout.split("\0") if name)
    else:
        found = (path for path in ROOT.rglob("*") if not _is_left_behind(path))
    return sorted({path for path in found if path.is_file()})


def _is_left_behind(path: Path) -> bool:
    parts = path.relative_to(ROOT).parts
    in_hidden_folder = any(part.startswith(".") and part != ".ci" for part in parts[:-1])
    return in_hidden_folder or parts[-1] == ".coverage" or not _NOT_SOURCES.isdisjoint(parts)
