"""The command `lotkin`: parses a command line, calls one use and renders its answer."""
