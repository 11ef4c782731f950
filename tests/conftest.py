"""What holds for every test."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# A developer's own ledger must never be touched by a test.
os.environ.pop("LOTKIN_DB", None)

# Tests share the machine and run under coverage: how long one example takes says nothing.
settings.register_profile(
    "lotkin", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("lotkin")
