"""Cases: what they hold, what was decided, and what other programs are sent of them."""
