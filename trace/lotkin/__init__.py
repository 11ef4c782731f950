"""lotkin: what everything was made from, and where it is.

`lotkin.open` gives a store to ask and to record in; all else is in the packages below.
"""

from __future__ import annotations

import typing

if typing.TYPE_CHECKING:
    from os import PathLike

    from lotkin.wiring.opened import OpenStore

    __version__: str

__all__ = ["__version__", "open"]


def open(path: str | PathLike[str] | None = None) -> OpenStore:  # noqa: A001 - called lotkin.open
    """Open a store that exists, to ask and to record in.

    Args:
        path: File, or the URL of a store on PostgreSQL. None for the store that the command means
            where no `--db` is given: `LOTKIN_DB`, else `lotkin.db` in this folder.

    Returns:
        The store; in a `with` block it is closed at the end.

    Raises:
        NoStore: There is none.
        StoreOutdated: Its tables are of another version.
        StoreUnreadable: It is not a store.
    """
    from lotkin.wiring.opened import OpenStore

    return OpenStore(path)


if not typing.TYPE_CHECKING:  # type checkers know what there is, and refuse what there is not

    def __getattr__(name):
        """Look the version up in the installed metadata only when somebody asks for it."""
        if name == "__version__":
            # Reading metadata costs more than everything else in this module.
            from importlib.metadata import version

            return version("lotkin")
        message = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(message)
