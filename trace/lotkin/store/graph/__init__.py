"""The graph in arrays: a file beside the store that answers large questions at once.

It is a copy of what the tables say, never the truth: whatever is wrong with it, the tables answer.
"""
