"""Events of units: benches, building, swapping and taking apart."""
