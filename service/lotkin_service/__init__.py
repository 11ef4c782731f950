"""HTTP interface, station pages and quality pages, which arrive in a later version."""
