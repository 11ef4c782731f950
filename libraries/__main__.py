"""Compare the locked libraries with published advisories; without them, check the pins alone."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from libraries.pins import not_in, not_pinned, other_than_locked, read_lock

ROOT = Path(__file__).parent.parent
RUNNING = ROOT / "requirements.lock"
ALL = ROOT / "requirements-dev.lock"
PATIENCE_S = 180


def main() -> None:
    """Say what was found; the status is 1 if something has to be done."""
    pins, running = (read_lock(lock.read_text("utf-8")) for lock in (ALL, RUNNING))
    wrong = [f"{name} is not pinned by version and hash" for name in not_pinned(pins + running)]
    wrong += [f"{what}, but not so for developers" for what in not_in(running, pins)]
    wrong += [f"installed is {what}" for what in other_than_locked(pins)]
    looked_up, known = advisories()
    wrong += known
    say(f"{len(pins)} libraries pinned by version and hash, {len(running)} of them to run")
    if looked_up:
        say(f"{looked_up} compared with published advisories")
    else:
        say("published advisories could not be read here; the pins alone were checked")
    for each in wrong:
        say(f"error: {each}")
    sys.exit(bool(wrong))


def advisories() -> tuple[int, list[str]]:
    """Ask for advisories; give how many libraries were looked up, and what is known of them."""
    command = [sys.executable, "-m", "pip_audit", "--requirement", str(ALL)]
    command += [
        "--disable-pip",
        "--require-hashes",
        "--format",
        "json",
        "--progress-spinner",
        "off",
    ]
    try:
        done = subprocess.run(command, capture_output=True, timeout=PATIENCE_S, check=False)
        said: dict[str, list[dict[str, Any]]] = json.loads(done.stdout)
    except (subprocess.TimeoutExpired, ValueError):
        return 0, []
    found = [each for each in said["dependencies"] if "vulns" in each]
    return len(found), [
        f"{each['name']} {each['version']}: {known['id']}, mended in "
        f"{', '.join(known['fix_versions']) or 'no version yet'}"
        for each in found
        for known in each["vulns"]
    ]


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
