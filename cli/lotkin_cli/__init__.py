"""The command `lotkin`: parses a command line, calls one use and renders its answer.

The package is entered again from uses/recording: events of a file are handed over one by one, so
that an error can name the line it is on. It is entered again from answers: the rows of an answer
are put into groups one by one, while they are gone through.
"""
