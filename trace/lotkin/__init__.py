"""The core of lotkin: items and links, event rules, journal, store and trace queries."""

from __future__ import annotations

__all__ = ["__version__"]


def __getattr__(name: str) -> str:
    """Look the version up in the installed metadata only when somebody asks for it."""
    if name == "__version__":
        # Reading metadata costs more than everything else in this module.
        from importlib.metadata import version

        return version("lotkin")
    message = f"module {__name__!r} has no attribute {name!r}"
    raise AttributeError(message)
