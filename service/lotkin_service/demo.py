"""`python -m lotkin_service.demo FOLDER`: the demo works with sign-ins printed, to look around."""

from __future__ import annotations

import secrets
import sys
from pathlib import Path

import lotkin_demo
from lotkin.wiring import create_store
from lotkin_service.serving import Listening, serve
from lotkin_service.settings import ServiceSettings
from lotkin_service.state import Works

__all__ = ["main", "prepare"]

WORDS = "amber basil cedar delta ember fjord grove heron inlet jetty kelp larch maple north".split()
SHOWN_ROLES = ("quality", "operator", "receiving")


def prepare(path: str) -> list[str]:
    """Build the demo works unless it is there, and give some of its people ways in.

    Returns:
        Lines that tell who they are.
    """
    if not Path(path).exists():
        store = create_store(path)
        lotkin_demo.build(store)
        store.close()
    works = Works(ServiceSettings(path))
    plan = works.plan()
    lines = []
    for role in SHOWN_ROLES:
        person = next((p for p in plan.people if role in p.roles), None) if plan else None
        if person is None:
            continue
        password = " ".join(secrets.choice(WORDS) for _ in range(5))
        once = works.sign_in.give_password(person.code)
        works.sign_in.change_password(person.code, once, password)
        pin = f"{secrets.randbelow(9000) + 1000}7"
        works.sign_in.give_pin(person.code, pin)
        lines.append(f"  {role:10} {person.code:10} password: {password}   PIN: {pin}")
    works.close()
    return lines


def main() -> None:
    """Prepare and serve."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else "demo-works")
    folder.mkdir(exist_ok=True)
    path = str(folder / "lotkin.db")
    out = sys.stdout
    out.write("building the demo works takes some seconds the first time\n")
    for line in prepare(path):
        out.write(f"{line}\n")

    def tell(address: str, password: str) -> None:
        out.write(f"serving at {address}\n")
        if password:
            out.write(f"  admin, for one sign-in: {password}\n")
        out.flush()

    serve(ServiceSettings(path), Listening("127.0.0.1", 8441, log_level="warning"), tell)


if __name__ == "__main__":
    main()
