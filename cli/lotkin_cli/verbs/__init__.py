"""The verbs, a file for each or for a pair; each parses, calls one use and renders its answer."""
