"""Rules across the entries of a plan, one kind of rule per file."""

from __future__ import annotations
