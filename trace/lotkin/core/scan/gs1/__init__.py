"""GS1: element strings, Digital Links and their application identifiers."""
