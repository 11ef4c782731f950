"""Cases: opening, looking, deciding, closing, and telling other programs."""
