"""Documents on A4: how pages are made up."""
