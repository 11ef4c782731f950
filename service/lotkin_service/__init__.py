"""HTTP interface, station pages and quality pages."""
