"""Events of quality: inspections and tests, cases, drills."""
