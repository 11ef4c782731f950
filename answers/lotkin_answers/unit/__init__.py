"""A unit: what is on record of it, as rows and in words, the same for every face."""
