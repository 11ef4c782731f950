"""The jobs that are done by scans at a station."""
