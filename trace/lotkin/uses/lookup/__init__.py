"""Finding what a scanned or typed text means."""
