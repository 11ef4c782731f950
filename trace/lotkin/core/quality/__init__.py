"""Quality work: sampling, what a sample proves, what failed units share."""
